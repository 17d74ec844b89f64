"""Header words for a weights file, by field: only words that mean one field and no other.

English, then German, French, and Spanish; common practice, no source. `order_headers` has those of order lists.
"""

from __future__ import annotations

from collections.abc import Mapping

WEIGHT_WORDS: Mapping[str, str] = {
    "order": (
        "order number|order no|order nr|order id|order ref|order reference|sales order|order code"
        "|bestellung|bestellnummer|bestellnr|auftrag|auftragsnummer|auftragsnr|order-nr"
        "|commande|numéro de commande|n° de commande|no commande|no de commande|référence commande"
        "|pedido|número de pedido|n.º de pedido|nº pedido|núm. pedido"
    ),
    "gross": "gross weight|weight|weighed|bruttogewicht|brutto|gewicht|poids brut|poids|peso bruto|peso",
    "unit": "weight unit|unit of weight|gewichtseinheit|einheit|unité|unité de poids|unidad|unidad de peso",
    "items": "contents|items in package|packed items|inhalt|contenu|contenido",
    "piece": "piece number|piece no|parcel number|paket nr|stück nr|numéro de colis|número de bulto",
    "mailer": "packaging|envelope|versandtasche|verpackung|emballage|embalaje",
    "length": "länge|longueur|largo|longitud",
    "width": "breite|largeur|ancho|anchura",
    "thickness": "height|depth|dicke|höhe|épaisseur|hauteur|grosor|espesor",
    "size_unit": "unit of size|size units|dimension unit|maßeinheit|unité de taille|unidad de medida",
    "division": "scale division|scale step|teilung|échelon|división",
    "stiff": "rigid|steif|rigide|rígido",
    "uneven": "lumpy|uneven thickness|uneben|ungleichmäßig|irrégulier|irregular",
}
