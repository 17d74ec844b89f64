"""The words that headers of order lists are made of, by meaning, in English, German, French, and Spanish.

Common practice, no source. Words are in lower case and without accents, as `header_words.plain` leaves them.
"""

from __future__ import annotations

from collections.abc import Mapping

# Who or what a column is about. A word that names a party means nothing else.
PARTIES: Mapping[str, str] = {
    "ship": (
        "livre livree empf ship shipto deliver deliverto recipient recipients addressee consignee destination receiver empfanger empfaenger "
        "liefer destinataire destinatario destinataria destino mailing mailto empfangers empfaengers dest"
    ),
    "bill": "bill billing billto invoice inv soldto payer rechnung rechnungs facturation facture facturacion factura",
    "buyer": (
        "buyer buyers subscriber subscribers backer backers patron supporter cust customer customers client clients purchaser contact user kunde kunden kaufer kaeufer kaufers kaeufers besteller "
        "acheteur acheteurs comprador compradora cliente clientes"
    ),
    "seller": (
        "seller sender shipper vendor supplier store merchant staff internal private own admin return returns returned warehouse "
        "absender verkaufer verkaeufer lieferant intern interne vendeur expediteur fournisseur vendedor remitente "
        "proveedor interna interno employee salesperson rep carrier courier office"
    ),
}

# What a column contains.
WORDS: Mapping[str, str] = {
    "order": "so orden ordenes ord order orders bestellung bestell bestellungs auftrag auftrags commande cde commandes commandee commandees bestellte bestellten pedido pedidos pedida pedidas",
    "purchase": "gekauft gekaufte gekauften achete achetee achetes purchase purchases kauf achat compra po",
    "receipt": "ticket receipt confirmation txn transaction sale reference ref beleg vorgang referenz referencia transaccion venta vente",
    "number": "number no nr nro num numero nummer n key",
    "id": "id ids identifier uid uuid guid kennung identifiant",
    "code": "code cd cod kennzeichen kurzel kuerzel codigo iso iso2 iso3 alpha2",
    "date": "date dt day when datum fecha",
    "time": "time timestamp at zeit hora heure uhrzeit",
    "placed": "vendu vendido vendida verkauft comprado comprada bought creation creacion placed ordered sold purchased created creation bestellt passee creee creado realizado",
    "other-date": (
        "required due updated modified estimated expected promised expires cancelled canceled refunded delivered faellig "
        "fallig geandert mise modificado"
    ),
    "shipped": "shipped dispatched dispatch fulfilled sent versendet verschickt expedie enviado",
    "paid": "paid pagar bezahlt bezahlter bezahlte paye payee pagado",
    "name": "name names who nm fullname nombre nom noms",
    "full": "full complete whole complet complete completo completa vollstandig vollstaendig ganze voller",
    "first-name": "firstname forename givenname vorname prenom prenoms fname",
    "first": "first given",
    "last-name": "lastname surname familyname nachname familienname apellido apellidos lname zuname",
    "last": "last family",
    "middle": "middle initial salutation anrede civilite",
    "company": "company business organization organisation firma firmen firmenname unternehmen societe entreprise empresa compania",
    "address": "address addr adresse adressen adress anschrift direccion domicilio",
    "line": "line pos zeile ligne linea position positions posten",
    "street": "road voie chemin avenue weg street strasse str rue calle",
    "house": "house hausnummer hausnr hnr",
    "careof": "careof",
    "apartment": (
        "batiment unitno aptno bldg building apartment apt suite flat adresszusatz zusatz complement complemento supplement piso puerta appartement etage"
    ),
    "post-town": "posttown",
    "city": "comuna city town locality municipality suburb stadt ort wohnort gemeinde ville localite commune municipio ciudad poblacion localidad",
    "region": (
        "state province region prov county bundesland kanton provinz departement canton provincia estado prefecture"
    ),
    "zip": "npa zip zipcode postcode postalcode zippostal plz postleitzahl cp codigopostal codepostal",
    "postal": "postal post",
    "country": "country ctry cntry land pays pais nation staat lander laender",
    "email": "email mail courriel correo emailaddress",
    "electronic": "e electronic elektronische electronique electronico",
    "phone": "phone telephone tel mobile mobil cell telefon telefonnummer handy portable telefono movil phonenumber fon rufnummer celular tfno tlf",
    "item": "ware waren item items prod product products article articles goods artikel produkt produit produits articulo articulos producto",
    "listing": "listing lineitem lines publicacion",
    "title": "title label titel titre titulo thing things what reward objet gegenstand",
    "designation": "bezeichnung bez designation libelle intitule denominacion concepto",
    "description": "description desc descr beschreibung text descripcion details",
    "sku": "sku skus stockcode artikelnummer artikelnr itemcode productcode",
    "stock": "stock part material model modell modele modelo catalog catalogue",
    "barcode": "barcode ean upc gtin isbn asin",
    "variant": (
        "variant variants variation variations option options personalization variante varianten ausfuhrung ausfuehrung declinaison "
        "opcion variacion"
    ),
    "size": "size grosse groesse taille talla",
    "color": "color colour farbe couleur",
    "category": "category categories type types group department collection brand kategorie categorie categoria marke tags tag class",
    "quantity": (
        "quantity qty quantities menge anzahl anz stuckzahl stueckzahl stuck stueck quantite qte cantidad cant uds unds unidades pcs quant nb"
    ),
    "count": "copies copy exemplare exemplar exemplaires exemplaire ejemplares ejemplar count pieces piece units piezas",
    "item-count": "itemcount",
    "additional": "additional zusatzlich zusaetzlich zusatzzeile",
    "price": "tarif tarifa price prc preis prix precio rate",
    "each": "each einheit unit single per einzel einzeln unitaire unitario unite unidad ud stk",
    "selling": "sell selling vk",
    "each-price": "pu pvu stkpreis",
    "total": "total totals gesamt gesamtpreis summe overall sum montanttotal",
    "grand-total": "grandtotal gesamtsumme gesamtbetrag endsumme endbetrag",
    "cart": "cart checkout basket warenkorb panier carrito",
    "st": "st",
    "subtotal": "subtotal zwischensumme soustotal",
    "extended": "extended extension ext row zeilensumme",
    "amount": "amount amt value betrag montant importe wert valeur valor",
    "cost": "costo costos gebuhren cost costs charge charges charged fee fees kosten gebuhr gebuehr frais gastos coste costes cargos",
    "sales": "sales revenue umsatz ventas",
    "list": "list msrp rrp retail compare original regular uvp",
    "currency": "currency currencies wahrung waehrung wahrungs waehrungs devise moneda divisa monnaie",
    "shipping": "shipping shipment postage freight frt delivery handling versand lieferung livraison entrega porto affranchissement fracht port ports envoi envio portes expedition",
    "method": "method mode service way speed level methode metodo forma modo choice chosen wahl art",
    "via": "via shipvia",
    "discount": (
        "dto disc discount discounts coupon voucher promo promotion rebate rabatt nachlass gutschein remise reduction rabais descuento "
        "cupon"
    ),
    "percent": "percent pct percentage prozent pourcentage porcentaje",
    "status": "status statut etat zustand bestellstatus",
    "payment": "payment payments financial zahlung zahlungs paiement pago card transactionfee gateway",
    "fulfillment": "fulfillment fulfilment",
    "state-shipping": "estadoenvio",
    "note": (
        "observaciones observacion msg wunsch note notes commentaire commentaires message messages comment comments remark remarks instruction instructions request requests memo notiz notizen nachricht "
        "hinweis bemerkung anmerkung kommentar remarque nota notas mensaje comentario comentarios"
    ),
    "gift": "gift geschenk cadeau regalo",
    "wrap": "wrap wrapping giftwrap geschenkverpackung geschenkpapier envoltorio envoltura",
    "tax": "mehrwertsteuer umsatzsteuer tax taxes vat gst hst pst mwst ust steuer taxe tva iva impuesto impuestos duty duties",
    "tip": "tip tips gratuity trinkgeld pourboire propina",
    "insurance": "insurance versicherung assurance seguro",
    "weight": "weight gewicht poids peso grams",
    "tracking": "tracking trackingnumber sendungsnummer suivi seguimiento",
    "custom": "special personal custom",
    "refund": "refund refunds erstattung remboursement reembolso",
    "source": "source channel platform web online website site marketplace shop quelle canal",
    "url": "url link image photo",
}

FILLERS = frozenset(
    "the of de del la le les du des d l el los las der die das den dem and und et y a an au for fur fuer pour para por to from von "
    "vom zu zur zum bei on am in im en with mit s is was your this ihre or o ou oder pro je by par por durch waren parcel package brutto netto ttc ht gross net aplicado applied".split()
)

# Word pairs that together mean one word of the table above, or a party.
PAIRS: Mapping[tuple[str, str], str] = {
    ("ship", "to"): "shipto",
    ("ship", "from"): "sender",
    ("shipped", "from"): "sender",
    ("deliver", "to"): "shipto",
    ("send", "to"): "shipto",
    ("mail", "to"): "mailto",
    ("how", "many"): "quantity",
    ("grand", "total"): "grandtotal",
    ("total", "grand"): "grandtotal",
    ("totals", "grand"): "grandtotal",
    ("name", "vorname"): "fullname",
    ("nachname", "vorname"): "fullname",
    ("vor", "zuname"): "fullname",
    ("name", "prenom"): "fullname",
    ("last", "first"): "fullname",
    ("nom", "prenom"): "fullname",
    ("prenom", "nom"): "fullname",
    ("nombre", "apellidos"): "fullname",
    ("apellidos", "nombre"): "fullname",
    ("vorname", "nachname"): "fullname",
    ("firstname", "lastname"): "fullname",
    ("adresse", "postale"): "adresse",
    ("direccion", "postal"): "direccion",
    ("postal", "address"): "address",
    ("sent", "to"): "shipto",
    ("lieferung", "an"): "shipto",
    ("livre", "a"): "shipto",
    ("enviar", "a"): "shipto",
    ("sold", "to"): "soldto",
    ("bill", "to"): "billto",
    ("first", "name"): "firstname",
    ("given", "name"): "givenname",
    ("last", "name"): "lastname",
    ("family", "name"): "familyname",
    ("nom", "famille"): "nachname",
    ("post", "code"): "postcode",
    ("postal", "code"): "postcode",
    ("code", "postal"): "postcode",
    ("codigo", "postal"): "postcode",
    ("zip", "code"): "zip",
    ("sub", "total"): "subtotal",
    ("line", "item"): "lineitem",
    ("line", "items"): "lineitem",
    ("cod", "postal"): "cp",
    ("e", "mail"): "email",
    ("correo", "electronico"): "email",
    ("adresse", "electronique"): "email",
    ("mail", "address"): "email",
    ("email", "address"): "email",
    ("email", "adresse"): "email",
    ("adresse", "email"): "email",
    ("raison", "sociale"): "firma",
    ("razon", "social"): "firma",
    ("house", "number"): "hausnummer",
    ("house", "no"): "hausnummer",
    ("street", "number"): "hausnummer",
    ("street", "no"): "hausnummer",
    ("street", "name"): "street",
    ("numero", "calle"): "hausnummer",
    ("numero", "rue"): "hausnummer",
    ("stock", "keeping"): "stockkeeping",
    ("stockkeeping", "unit"): "sku",
    ("number", "items"): "itemcount",
    ("number", "item"): "itemcount",
    ("number", "goods"): "itemcount",
    ("number", "articles"): "itemcount",
    ("number", "products"): "itemcount",
    ("anzahl", "artikel"): "itemcount",
    ("nombre", "articles"): "itemcount",
    ("nombre", "produits"): "itemcount",
    ("numero", "articulos"): "itemcount",
    ("numero", "productos"): "itemcount",
    ("unit", "number"): "apartment",
    ("art", "nr"): "artikelnummer",
    ("c", "p"): "cp",
    ("c", "postal"): "cp",
    ("vor", "nachname"): "fullname",
    ("state", "order"): "status",
    ("estado", "pedido"): "status",
    ("estado", "envio"): "estadoenvio",
    ("post", "town"): "posttown",
    ("p", "unitario"): "pu",
    ("p", "unit"): "pu",
    ("e", "preis"): "stkpreis",
    ("mw", "st"): "mwst",
    ("c", "o"): "careof",
    ("re", "nr"): "belegnr",
    ("re", "datum"): "belegdatum",
    ("commande", "le"): "placed",
    ("gift", "wrap"): "giftwrap",
    ("gift", "wrapping"): "giftwrap",
    ("country", "territory"): "country",
    ("f", "name"): "firstname",
    ("l", "name"): "lastname",
    ("p", "u"): "pu",
    ("haus", "nr"): "hausnummer",
    ("haus", "no"): "hausnummer",
    ("art", "bez"): "bezeichnung",
    ("iso", "2"): "iso",
    ("iso", "3"): "iso",
    ("alpha", "2"): "iso",
    ("alpha", "3"): "iso",
    ("p", "p"): "postage",
    ("postage", "packing"): "postage",
    ("verpackung", "versand"): "versand",
    ("emballage", "cadeau"): "giftwrap",
    ("inkl", "mwst"): "brutto",
    ("incl", "tax"): "brutto",
    ("incl", "vat"): "brutto",
    ("inc", "tax"): "brutto",
    ("inc", "vat"): "brutto",
    # A note to the shop is the buyer's; a note of the shop is not.
    ("to", "seller"): "note",
    ("to", "shop"): "note",
    ("to", "us"): "note",
    ("den", "verkaufer"): "note",
    ("au", "vendeur"): "note",
    ("al", "vendedor"): "note",
    ("primer", "apellido"): "apellido",
}
