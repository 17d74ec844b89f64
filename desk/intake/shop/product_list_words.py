"""Header words for a product list or a list of mailers, by field of the shop file.

English, German, French, Spanish; common practice, no source. Only words that mean this field in such a list.
"""

from __future__ import annotations

from collections.abc import Mapping

PRODUCT_WORDS: Mapping[str, str] = {
    "sku": (
        "article number|article no|article nr|item number|item no|item code|product code|product number|artikelnummer"
        "|artikelnr|artikel-nr|art.-nr.|référence|réf|référence article|referencia|ref|número de artículo"
    ),
    "name": (
        "product|product name|product title|title|item|item name|article|artikel|artikelname|bezeichnung|produkt"
        "|produktname|produit|nom du produit|désignation|libellé|producto|nombre|nombre del producto|artículo"
    ),
    "unit_weight": (
        "weight|weight each|item weight|product weight|net weight|gewicht|stückgewicht|nettogewicht|poids"
        "|poids unitaire|poids net|peso|peso unitario|peso neto"
    ),
    "weight_unit": "unit of weight|unit|gewichtseinheit|einheit|unité de poids|unité|unidad de peso|unidad",
    "customs_words": (
        "customs description|description for customs|customs text|goods description|zollbezeichnung|warenbezeichnung"
        "|désignation douanière|description douanière|descripción aduanera"
    ),
    "hs": (
        "hs code|hs number|hs-code|tariff number|tariff code|customs tariff number|commodity code|harmonized code"
        "|zolltarifnummer|warennummer|code sh|code hs|code douanier|código hs|código sa|partida arancelaria"
    ),
    "origin": (
        "country of origin|origin country|made in|ursprungsland|ursprung|herkunftsland|pays d'origine|origine"
        "|país de origen|origen"
    ),
    "stiff": "rigid|steif|rigide|rígido",
    "length": "länge|longueur|largo|longitud",
    "width": "breite|largeur|ancho|anchura",
    "thickness": "thick|dicke|stärke|épaisseur|grosor|espesor",
    "size_unit": "unit of size|size units|dimension unit|maßeinheit|unité de taille|unidad de medida",
    "usual_mailer": "usual packaging|default mailer|default packaging",
    "document": "papers only|dokument|documento",
    "media": "media mail|books and films",
    "no_goods": "not goods|service|keine ware",
    "restricted": "restriction|dangerous goods|gefahrgut|marchandise dangereuse|mercancía peligrosa",
}

MAILER_WORDS: Mapping[str, str] = {
    "name": "mailer|mailer name|packaging|packaging name|verpackung|emballage|embalaje|bezeichnung|désignation|nombre",
    "kind": "type|kind of mailer|mailer type|packaging type|art|typ|verpackungsart|type d'emballage|tipo",
    "length": "länge|longueur|largo|longitud",
    "width": "breite|largeur|ancho|anchura",
    "thickness": "height|depth|dicke|höhe|épaisseur|hauteur|grosor|espesor|alto",
    "size_unit": "unit of size|size units|dimension unit|maßeinheit|unité de taille|unidad de medida",
    "tare": "tare weight|empty weight|weight|weight empty|leergewicht|tara|gewicht|poids à vide|poids|peso|peso vacío",
    "tare_unit": "weight unit|unit of weight|gewichtseinheit|unité de poids|unidad de peso",
    "pack_price": "price per pack|price of a pack|price|packungspreis|preis|prix du paquet|prix|precio del paquete|precio",
    "pack_count": "pack size|per pack|pieces per pack|count|quantity|packungsgröße|stück|quantité|cantidad|unidades",
    "stiff": "rigid|steif|rigide|rígido",
    "reused": "second use|secondhand|gebraucht|wiederverwendet|réutilisé|reutilizado",
    "paper": "made of paper|papier|papel",
    "only_service": "only for service|nur für dienst",
}
