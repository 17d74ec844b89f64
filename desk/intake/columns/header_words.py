"""The words a column may be headed with, by field: only those that mean this field and no other.

English, then German, French and Spanish; common practice, no source. A word that means two things in different
lists (`name`, `price`, `total`, `date`, `address`, `id`) is left out on purpose: it is suggested, never taken.
"""

from __future__ import annotations

from collections.abc import Mapping

ORDER_WORDS: Mapping[str, str] = {
    "order": (
        "order number|order no|order nr|order id|order ref|order reference|sales order|order code"
        "|bestellung|bestellnummer|bestellnr|auftrag|auftragsnummer|auftragsnr|order-nr"
        "|commande|numéro de commande|n° de commande|no commande|no de commande|référence commande"
        "|pedido|número de pedido|n.º de pedido|nº pedido|núm. pedido"
    ),
    "placed": (
        "order date|date ordered|ordered|ordered on|date placed|placed on|date of order|order placed"
        "|bestelldatum|bestellt am|auftragsdatum|date de commande|date de la commande|commandé le"
        "|fecha de pedido|fecha del pedido|fecha pedido"
    ),
    "recipient": (
        "recipient name|ship to|ship to name|ship name|shipping name|deliver to|delivery name|addressee|consignee"
        "|name of recipient|send to|empfänger|empfaenger|empfängername|name des empfängers|lieferung an"
        "|destinataire|nom du destinataire|destinatario|nombre del destinatario|nombre destinatario"
    ),
    "company": (
        "company name|ship to company|ship company|shipping company|recipient company|business name|firma|firmenname"
        "|unternehmen|société|entreprise|raison sociale|empresa|razón social|compañía"
    ),
    "address1": (
        "address line 1|address line1|address line one|street|street address|street 1|street1|ship to address 1"
        "|ship address 1|shipping address 1|delivery address 1|ship street|ship to street|straße|strasse"
        "|straße und hausnummer|adresszeile 1|adresse 1|anschrift 1|rue|ligne d'adresse 1|adresse ligne 1"
        "|calle|dirección 1|línea de dirección 1"
    ),
    "address2": (
        "address line 2|address line2|address line two|street 2|street2|apartment|apt|suite|unit number"
        "|ship to address 2|ship address 2|shipping address 2|delivery address 2|adresszusatz|adresszeile 2|adresse 2"
        "|anschrift 2|complément d'adresse|ligne d'adresse 2|adresse ligne 2|dirección 2|línea de dirección 2|piso"
    ),
    "city": (
        "town|city town|city/town|ship city|ship to city|shipping city|delivery city|stadt|ort|wohnort|ville"
        "|localité|ciudad|población|localidad"
    ),
    "region": (
        "state|province|state province|state/province|state or province|ship state|ship to state|shipping state"
        "|delivery state|bundesland|kanton|provinz|région|département|canton|provincia|estado/provincia"
    ),
    "postal_code": (
        "postcode|post code|zip|zip code|zipcode|postal|postal zip|zip/postal code|zip or postal code|ship zip"
        "|ship to zip|shipping zip|ship postal code|ship to postal code|shipping postal code|delivery postcode"
        "|plz|postleitzahl|code postal|cp|código postal|c.p."
    ),
    "country": (
        "country code|country name|ship country|ship to country|shipping country|delivery country"
        "|destination country|land|länderkürzel|ländercode|lieferland|pays|code pays|pays de destination|país"
        "|código de país|país de destino"
    ),
    "email": (
        "e-mail address|email address|mail address|buyer email|customer email|e-mail-adresse|adresse e-mail"
        "|courriel|adresse électronique|correo electrónico"
    ),
    "phone": (
        "phone number|telephone|telephone number|tel|tel no|mobile|mobile number|buyer phone|telefon|telefonnummer"
        "|handy|téléphone|numéro de téléphone|teléfono|móvil|número de teléfono"
    ),
    "item": (
        "item name|item title|product|product name|product title|article|article name|item description"
        "|description of item|artikel|artikelname|artikelbezeichnung|produkt|produktname|produit|nom du produit"
        "|désignation|artículo|producto|nombre del producto|nombre del artículo"
    ),
    "sku": (
        "item sku|product sku|item code|item number|item no|product code|article number|article no|stock code"
        "|stock keeping unit|artikelnummer|artikelnr|artikel-nr|art.-nr.|produktnummer|code article"
        "|référence article|référence produit|réf. article|código de artículo|código de producto"
        "|referencia del producto"
    ),
    "variant": (
        "variation|variations|item option|item options|variant name|variante|ausführung|déclinaison|opción|variación"
    ),
    "quantity": (
        "qty|item quantity|item qty|quantity ordered|qty ordered|pcs|menge|anzahl|stück|stückzahl|stueck"
        "|quantité|qté|cantidad|cant|unidades"
    ),
    "unit_price": (
        "price each|each price|item price|price per item|price per unit|price per piece|single price"
        "|stückpreis|einzelpreis|preis pro stück|preis je stück|prix unitaire|prix à l'unité|precio unitario"
        "|precio por unidad"
    ),
    "currency": (
        "currency code|order currency|iso currency|währung|waehrung|währungscode|devise|code devise|moneda|divisa"
        "|código de moneda"
    ),
    "shipping_paid": (
        "shipping charged|postage paid|postage charged|shipping charge|order shipping|paid for shipping"
        "|shipping paid by buyer|buyer paid shipping|versandkosten|versand bezahlt|bezahlter versand|porto bezahlt"
        "|frais de port|frais d'envoi|port payé|frais de livraison|gastos de envío|envío pagado|portes"
    ),
    "shipping_choice": (
        "shipping method|shipping option|delivery method|delivery option|chosen shipping|shipping service chosen"
        "|postage option|versandart|versandmethode|versandoption|mode de livraison|mode d'envoi|méthode de livraison"
        "|método de envío|forma de envío|modo de envío"
    ),
    "discount": (
        "order discount|discount amount|discount total|total discount|rabatt|rabattbetrag|nachlass|remise"
        "|montant de la remise|réduction|descuento|importe del descuento"
    ),
    "status": (
        "order status|state of order|bestellstatus|auftragsstatus|statut|statut de la commande|état de la commande"
        "|estado del pedido"
    ),
    "buyer_note": (
        "buyer notes|note from buyer|message from buyer|buyer message|buyer's note|customer note|customer notes"
        "|note from customer|order note|order notes|käufernotiz|nachricht des käufers|kundennotiz|bestellnotiz"
        "|note de l'acheteur|message de l'acheteur|note du client|nota del comprador|mensaje del comprador"
        "|nota del cliente"
    ),
}

# Words that mean a field in many lists and something else in others: offered first, never taken unseen.
HINTS: Mapping[str, str] = {
    "order": "number|no|nr|id|reference|transaction|transaction id|sale|sale id|nummer|numéro|número",
    "placed": "date|created|created at|paid on|paid at|sale date|datum|date de vente|fecha",
    "recipient": (
        "name|full name|customer|customer name|buyer|buyer name|client|client name|contact|contact name|kunde"
        "|kundenname|name des kunden|nom|nom complet|acheteur|nombre|nombre completo|cliente|comprador"
    ),
    "address1": "address|ship to address|shipping address|ship address|adresse|anschrift|dirección|domicilio",
    "address2": "address line 3|address 3|address3",
    "item": "description|goods|what|beschreibung|description de l'article|descripción",
    "sku": "product id|product code|item id|article|ref",
    "quantity": "count|pieces|units|number of items|stückzahl|nombre|unidades",
    "unit_price": "price|amount|sales|item total|cost|preis|betrag|montant|prix|importe|precio",
    "shipping_paid": "shipping|postage|freight|shipping and handling|fracht|port|envío",
    "shipping_choice": "ship mode|shipping|service|delivery|carrier|versand|livraison|envío",
    "region": "state|province|county",
    "buyer_note": "note|notes|message|comment|comments|remarks|bemerkung|remarque|nota|comentario",
    "email": "mail|contact mail",
    "phone": "telephone|tel|mobile",
}

NEEDED = ("order", "recipient", "country", "item")  # an order list without one of these columns is unreadable

WEIGHT_WORDS: Mapping[str, str] = {
    "order": ORDER_WORDS["order"],
    "gross": "gross weight|weight|weighed|bruttogewicht|brutto|gewicht|poids brut|poids|peso bruto|peso",
    "unit": "weight unit|unit of weight|gewichtseinheit|einheit|unité|unité de poids|unidad|unidad de peso",
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
