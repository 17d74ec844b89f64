-- A store of schema 0010, dumped by SQLite from a small run of the program that wrote it. Everyone in it is invented.
BEGIN TRANSACTION;
CREATE TABLE answers (
	id INTEGER NOT NULL, 
	version INTEGER NOT NULL, 
	revision INTEGER NOT NULL, 
	piece_id INTEGER NOT NULL, 
	code TEXT NOT NULL, 
	at TEXT NOT NULL, 
	CONSTRAINT pk_answers PRIMARY KEY (id), 
	CONSTRAINT uq_answers_piece_id_code UNIQUE (piece_id, code), 
	CONSTRAINT fk_answers_piece_id FOREIGN KEY(piece_id) REFERENCES pieces (id)
);
INSERT INTO "answers" VALUES(1,1,6,2,'hs-missing','2026-11-28T23:13:01.950524+00:00');
CREATE TABLE benches (
	name TEXT NOT NULL, 
	piece_id INTEGER, 
	seen_at TEXT NOT NULL, 
	CONSTRAINT pk_benches PRIMARY KEY (name)
);
CREATE TABLE ids (
	name TEXT NOT NULL, 
	next INTEGER NOT NULL, 
	CONSTRAINT pk_ids PRIMARY KEY (name)
);
INSERT INTO "ids" VALUES('shop_rows',9);
INSERT INTO "ids" VALUES('journal',11);
INSERT INTO "ids" VALUES('movements',4);
INSERT INTO "ids" VALUES('orders',5);
INSERT INTO "ids" VALUES('pieces',5);
INSERT INTO "ids" VALUES('weighings',4);
INSERT INTO "ids" VALUES('answers',2);
INSERT INTO "ids" VALUES('ledger',1);
INSERT INTO "ids" VALUES('papers',2);
INSERT INTO "ids" VALUES('settings',2);
CREATE TABLE journal (
	id INTEGER NOT NULL, 
	bench TEXT NOT NULL, 
	kind TEXT NOT NULL, 
	step TEXT NOT NULL, 
	facts TEXT NOT NULL, 
	at TEXT NOT NULL, 
	schema_head TEXT NOT NULL, 
	live BOOLEAN NOT NULL, 
	final TEXT NOT NULL, 
	touched TEXT NOT NULL, 
	images TEXT NOT NULL, 
	CONSTRAINT pk_journal PRIMARY KEY (id)
);
INSERT INTO "journal" VALUES(1,'run 3641b48e-7743-4a70-a70b-4e68caa80012','act','Take in the shop','{}','2026-11-28T23:13:01.238023+00:00','0006',1,'','{"pieces":[],"orders":[],"shop":true,"settings":false}','{"shop_rows":{"new":[[1,[[1,8]]]]},"movements":{"new":[[1,[[1,2]]]]}}');
INSERT INTO "journal" VALUES(2,'run 3641b48e-7743-4a70-a70b-4e68caa80012','act','Take in orders','{"count":4}','2026-11-28T23:13:01.255765+00:00','0006',1,'','{"pieces":[[1,4]],"orders":[[1,4]],"shop":false,"settings":false}','{"orders":{"new":[[2,[[1,4]]]]},"pieces":{"new":[[2,[[1,4]]]]}}');
INSERT INTO "journal" VALUES(3,'run 3641b48e-7743-4a70-a70b-4e68caa80012','act','Weigh pieces','{"count":3}','2026-11-28T23:13:01.273746+00:00','0006',1,'','{"pieces":[[1,2],[4,4]],"orders":[],"shop":false,"settings":false}','{"pieces":{"changed":[[1,3,{"revision":2,"weighing_id":null}],[2,3,{"revision":2,"weighing_id":null}],[4,3,{"revision":2,"weighing_id":null}]]},"weighings":{"new":[[3,[[1,3]]]]}}');
INSERT INTO "journal" VALUES(4,'bench 1','act','Stamps on 1-1','{}','2026-11-28T23:13:01.892800+00:00','0006',1,'','{"pieces":[[1,1]],"orders":[],"shop":true,"settings":false}','{"pieces":{"changed":[[1,4,{"revision":3,"postage_on_at":null}]]},"movements":{"new":[[4,[[3,3]]]]}}');
INSERT INTO "journal" VALUES(5,'bench 1','act','Pack together 2 and 3','{}','2026-11-28T23:13:01.931414+00:00','0006',1,'','{"pieces":[[2,3]],"orders":[],"shop":false,"settings":false}','{"pieces":{"changed":[[2,5,{"revision":3,"weighing_id":2}],[3,5,{"revision":2,"together_with":null}]]}}');
INSERT INTO "journal" VALUES(6,'bench 1','act','Answer 2-1','{}','2026-11-28T23:13:01.950524+00:00','0006',1,'','{"pieces":[[2,2]],"orders":[],"shop":false,"settings":false}','{"answers":{"new":[[6,[[1,1]]]]}}');
INSERT INTO "journal" VALUES(7,'bench 1','act','Set aside: 1 piece','{}','2026-11-28T23:13:01.961772+00:00','0006',0,'','{"pieces":[[4,4]],"orders":[],"shop":false,"settings":false}','{"pieces":{"changed":[[4,7,{"revision":3,"mailer_override":""}]]}}');
INSERT INTO "journal" VALUES(8,'bench 1','undo','Set aside: 1 piece','{}','2026-11-28T23:13:01.974572+00:00','0006',0,'','{"pieces":[[4,4]],"orders":[],"shop":false,"settings":false}','{"pieces":{"changed":[[4,3,{"revision":7,"mailer_override":"A7"}]]}}');
INSERT INTO "journal" VALUES(9,'bench 1','act','Print','{}','2026-11-28T23:13:02.021832+00:00','0006',1,'What was printed stays printed. Void the paper instead.','{"pieces":[[1,1]],"orders":[],"shop":false,"settings":false}','{"papers":{"new":[[9,[[1,1]]]]}}');
INSERT INTO "journal" VALUES(10,'bench 1','act','Mapping saved: Fair','{}','2026-11-29T02:22:44.194241+00:00','0008',1,'','{"pieces":[],"orders":[],"shop":false,"settings":true}','{"settings":{"new":[[10,[[1,1]]]]}}');
CREATE TABLE journal_pieces (
	piece_id INTEGER NOT NULL, 
	revision INTEGER NOT NULL, 
	CONSTRAINT pk_journal_pieces PRIMARY KEY (piece_id, revision)
)
 WITHOUT ROWID

;
INSERT INTO "journal_pieces" VALUES(1,2);
INSERT INTO "journal_pieces" VALUES(1,3);
INSERT INTO "journal_pieces" VALUES(1,4);
INSERT INTO "journal_pieces" VALUES(1,9);
INSERT INTO "journal_pieces" VALUES(2,2);
INSERT INTO "journal_pieces" VALUES(2,3);
INSERT INTO "journal_pieces" VALUES(2,5);
INSERT INTO "journal_pieces" VALUES(2,6);
INSERT INTO "journal_pieces" VALUES(3,2);
INSERT INTO "journal_pieces" VALUES(3,5);
INSERT INTO "journal_pieces" VALUES(4,2);
INSERT INTO "journal_pieces" VALUES(4,3);
INSERT INTO "journal_pieces" VALUES(4,7);
INSERT INTO "journal_pieces" VALUES(4,8);
CREATE TABLE ledger (
	id INTEGER NOT NULL, 
	at TEXT NOT NULL, 
	mailed_on TEXT NOT NULL, 
	piece_id INTEGER NOT NULL, 
	order_number TEXT NOT NULL, 
	reference TEXT NOT NULL, 
	entry TEXT NOT NULL, 
	amount_minor BIGINT NOT NULL, 
	currency TEXT NOT NULL, 
	service TEXT NOT NULL, 
	zone TEXT NOT NULL, 
	price_list TEXT NOT NULL, 
	country TEXT NOT NULL, 
	state TEXT NOT NULL, 
	why TEXT NOT NULL, 
	CONSTRAINT pk_ledger PRIMARY KEY (id)
);
CREATE TABLE meta (
	name TEXT NOT NULL, 
	value TEXT NOT NULL, 
	CONSTRAINT pk_meta PRIMARY KEY (name)
);
INSERT INTO "meta" VALUES('store','b8d2bc5f-1eb3-477c-ba93-3c09a55b0fe5');
INSERT INTO "meta" VALUES('created','2026-11-28T23:13:01.162768+00:00');
CREATE TABLE movements (
	id INTEGER NOT NULL, 
	at TEXT NOT NULL, 
	kind TEXT NOT NULL, 
	name TEXT NOT NULL, 
	change INTEGER NOT NULL, 
	why TEXT NOT NULL, 
	piece_id INTEGER, 
	CONSTRAINT pk_movements PRIMARY KEY (id)
);
INSERT INTO "movements" VALUES(1,'2026-11-28T23:13:01.238023+00:00','stamp','forever',9,'counted',NULL);
INSERT INTO "movements" VALUES(2,'2026-11-28T23:13:01.238023+00:00','stamp','additional_ounce',9,'counted',NULL);
INSERT INTO "movements" VALUES(3,'2026-11-28T23:13:01.892800+00:00','stamp','forever',-1,'used',1);
CREATE TABLE orders (
	id INTEGER NOT NULL, 
	version INTEGER NOT NULL, 
	revision INTEGER NOT NULL, 
	source TEXT NOT NULL, 
	number TEXT NOT NULL, 
	digest TEXT NOT NULL, 
	content TEXT NOT NULL, 
	CONSTRAINT pk_orders PRIMARY KEY (id), 
	CONSTRAINT uq_orders_source_number UNIQUE (source, number)
);
INSERT INTO "orders" VALUES(1,1,2,'','1','1c7fab4fb552bc4c705cfe2b275a1816','{"v":1,"number":"1","address":{"recipient":"Ada Vell","company":"","address1":"1 Quill Row","address2":"","city":"Bend","region":"OR","postal_code":"97701","country":"US","email":"ada@vell.example","phone":"","country_typed":"US"},"lines":[{"item":"Card","quantity":1,"unit_price":{"minor":650,"currency":"USD"},"sku":"CD","variant":""}],"currency":"USD","shipping_paid":{"minor":500,"currency":"USD"},"discount":{"minor":0,"currency":"USD"},"shipping_choice":"","status":"","buyer_note":"","placed":null,"source":"","findings":[],"charges":[]}');
INSERT INTO "orders" VALUES(2,1,2,'','2','325b7ad4688f6eaf183c7a034bd328e5','{"v":1,"number":"2","address":{"recipient":"Cy Bell","company":"","address1":"2 Quill Row","address2":"","city":"Ames","region":"IA","postal_code":"50010","country":"US","email":"","phone":"","country_typed":"US"},"lines":[{"item":"Card","quantity":2,"unit_price":{"minor":650,"currency":"USD"},"sku":"CD","variant":""}],"currency":"USD","shipping_paid":{"minor":500,"currency":"USD"},"discount":{"minor":0,"currency":"USD"},"shipping_choice":"","status":"","buyer_note":"","placed":null,"source":"","findings":[],"charges":[]}');
INSERT INTO "orders" VALUES(3,1,2,'','3','43dfcc2901d55afefa4f1e079bc2c5d6','{"v":1,"number":"3","address":{"recipient":"Cy Bell","company":"","address1":"2 Quill Row","address2":"","city":"Ames","region":"IA","postal_code":"50010","country":"US","email":"","phone":"","country_typed":"US"},"lines":[{"item":"Card","quantity":2,"unit_price":{"minor":650,"currency":"USD"},"sku":"CD","variant":""}],"currency":"USD","shipping_paid":{"minor":500,"currency":"USD"},"discount":{"minor":0,"currency":"USD"},"shipping_choice":"","status":"","buyer_note":"","placed":null,"source":"","findings":[],"charges":[]}');
INSERT INTO "orders" VALUES(4,1,2,'','4','25d87eec0c3a4b3e79a7afa4560d0984','{"v":1,"number":"4","address":{"recipient":"Solene Mercadier","company":"","address1":"12 rue des Tanneurs","address2":"","city":"Lyon","region":"","postal_code":"69002","country":"FR","email":"","phone":"","country_typed":"FR"},"lines":[{"item":"Card","quantity":1,"unit_price":{"minor":650,"currency":"USD"},"sku":"CD","variant":""}],"currency":"USD","shipping_paid":{"minor":500,"currency":"USD"},"discount":{"minor":0,"currency":"USD"},"shipping_choice":"","status":"","buyer_note":"","placed":null,"source":"","findings":[],"charges":[]}');
CREATE TABLE papers (
	id INTEGER NOT NULL, 
	version INTEGER NOT NULL, 
	revision INTEGER NOT NULL, 
	piece_id INTEGER NOT NULL, 
	kind TEXT NOT NULL, 
	at TEXT NOT NULL, 
	digest TEXT NOT NULL, 
	voided_at TEXT, 
	CONSTRAINT pk_papers PRIMARY KEY (id), 
	CONSTRAINT fk_papers_piece_id FOREIGN KEY(piece_id) REFERENCES pieces (id)
);
INSERT INTO "papers" VALUES(1,1,9,1,'slip','2026-11-28T23:13:02.021832+00:00','',NULL);
CREATE TABLE pieces (
	id INTEGER NOT NULL, 
	version INTEGER NOT NULL, 
	revision INTEGER NOT NULL, 
	order_id INTEGER NOT NULL, 
	number INTEGER NOT NULL, 
	weighing_id INTEGER, 
	beside TEXT, 
	service_override TEXT NOT NULL, 
	mailer_override TEXT NOT NULL, 
	postage_on_at TEXT, 
	handed_over_at TEXT, 
	tracking TEXT NOT NULL, 
	paid_minor BIGINT, 
	paid_currency TEXT, 
	together_with INTEGER, 
	aside_reason TEXT, packing TEXT, extras TEXT, 
	CONSTRAINT pk_pieces PRIMARY KEY (id), 
	CONSTRAINT uq_pieces_order_id_number UNIQUE (order_id, number), 
	CONSTRAINT fk_pieces_order_id FOREIGN KEY(order_id) REFERENCES orders (id), 
	CONSTRAINT fk_pieces_together_with FOREIGN KEY(together_with) REFERENCES pieces (id)
);
INSERT INTO "pieces" VALUES(1,3,4,1,1,1,NULL,'','','2026-11-28T23:13:01.892800+00:00',NULL,'',NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "pieces" VALUES(2,3,5,2,1,NULL,NULL,'','',NULL,NULL,'',NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "pieces" VALUES(3,2,5,3,1,NULL,NULL,'','',NULL,NULL,'',NULL,NULL,2,NULL,NULL,NULL);
INSERT INTO "pieces" VALUES(4,4,3,4,1,3,NULL,'','',NULL,NULL,'',NULL,NULL,NULL,NULL,NULL,NULL);
CREATE TABLE schema_head (
	version_num VARCHAR(32) NOT NULL, 
	PRIMARY KEY (version_num)
);
INSERT INTO "schema_head" VALUES('0010');
CREATE TABLE settings (
	id INTEGER NOT NULL, 
	version INTEGER NOT NULL, 
	revision INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	content TEXT NOT NULL, 
	CONSTRAINT pk_settings PRIMARY KEY (id), 
	CONSTRAINT uq_settings_name UNIQUE (name)
);
INSERT INTO "settings" VALUES(1,1,10,'order list mappings','{"v":1,"all":[{"mapping":{"columns":{"recipient":"Who"},"prefix":"F-","reading":{"encoding":"","delimiter":"","sheet":""},"name":"Fair","formats":{"placed":["day first"],"discount":["percent","comma decimals"]},"ignore":[],"country":""},"header":["Who","When"]}]}');
CREATE TABLE shop_rows (
	id INTEGER NOT NULL, 
	version INTEGER NOT NULL, 
	revision INTEGER NOT NULL, 
	kind TEXT NOT NULL, 
	name TEXT NOT NULL, 
	place INTEGER NOT NULL, 
	content TEXT NOT NULL, 
	CONSTRAINT pk_shop_rows PRIMARY KEY (id), 
	CONSTRAINT uq_shop_rows_kind_name UNIQUE (kind, name)
);
INSERT INTO "shop_rows" VALUES(1,1,1,'sender','',0,'{"v":1,"recipient":"Sorrel Street Bindery","company":"","address1":"1 Sorrel Street","address2":"","city":"Duluth","region":"MN","postal_code":"55802","country":"US","email":"","phone":"","country_typed":""}');
INSERT INTO "shop_rows" VALUES(2,1,1,'policy','',1,'{"v":1,"currency":"USD","letter_postage":"stamped","parcel_services":["ground-retail"],"intl_services":["intl-package"],"parcel_payment":"online","untracked":"always","untracked_up_to":null,"skip_status":["cancelled","refunded","void","failed"],"ship_status":["paid"],"stamp_request_phrases":[],"cautious":false,"max_stamps":null,"scale_division":"0.01","scale_unit":null,"learn_weights":true,"scale_rounds_up":false,"close_call_from":null,"cover_from":null,"label_weight":{"grams":"0"},"insert_cost":{"minor":0,"currency":"USD"},"insert_weight":{"grams":"0"},"label_cost":{"minor":0,"currency":"USD"}}');
INSERT INTO "shop_rows" VALUES(3,1,1,'choice','by letter',2,'{"v":1,"is":["letter-stamped"]}');
INSERT INTO "shop_rows" VALUES(4,1,1,'tax id','ioss',3,'{"v":1,"is":"IM0400000000"}');
INSERT INTO "shop_rows" VALUES(5,1,1,'mailer','A7',4,'{"v":1,"name":"A7","kind":"envelope","size":{"length":{"mm":"184.150"},"width":{"mm":"133.350"},"thickness":{"mm":"1.524"}},"tare":null,"pack_price":null,"pack_count":1,"stiff":false,"reused":false,"paper":true,"only_service":""}');
INSERT INTO "shop_rows" VALUES(6,1,1,'product','CD',5,'{"v":1,"sku":"CD","name":"Card","unit_weight":null,"customs_words":"","hs":"","hs_edition":"HS 2022","origin":"","stiff":false,"length":null,"width":null,"thickness":null,"document":false,"media":false,"restricted":[],"usual_mailer":"","no_goods":false}');
INSERT INTO "shop_rows" VALUES(7,1,1,'stamp','forever',6,'{"v":1,"kind":"forever","count":9,"value":null}');
INSERT INTO "shop_rows" VALUES(8,1,1,'stamp','additional_ounce',7,'{"v":1,"kind":"additional_ounce","count":9,"value":null}');
CREATE TABLE weighings (
	id INTEGER NOT NULL, 
	piece_id INTEGER NOT NULL, 
	at TEXT NOT NULL, 
	value TEXT NOT NULL, 
	unit TEXT NOT NULL, 
	division TEXT NOT NULL, 
	mailer TEXT NOT NULL, 
	length_mm TEXT, 
	width_mm TEXT, 
	thickness_mm TEXT, 
	stiff BOOLEAN, 
	uneven BOOLEAN, 
	earlier TEXT, 
	copied_from TEXT NOT NULL, 
	low TEXT, 
	high TEXT, 
	empty_pan TEXT, 
	mailer_guessed BOOLEAN, 
	CONSTRAINT pk_weighings PRIMARY KEY (id)
);
INSERT INTO "weighings" VALUES(1,1,'2026-11-28T23:13:01.273746+00:00','0.8','oz','0.01','A7',NULL,NULL,NULL,NULL,NULL,'{"v":1,"value":"0.7","unit":"oz","division":"0.01","low":null,"high":null,"offset":"0"}','',NULL,NULL,NULL,0);
INSERT INTO "weighings" VALUES(2,2,'2026-11-28T23:13:01.273746+00:00','1.7','oz','0.01','A7',NULL,NULL,NULL,NULL,NULL,NULL,'',NULL,NULL,NULL,0);
INSERT INTO "weighings" VALUES(3,4,'2026-11-28T23:13:01.273746+00:00','0.9','oz','0.01','A7',NULL,NULL,NULL,NULL,NULL,NULL,'',NULL,NULL,NULL,0);
CREATE INDEX ix_journal_bench_live_kind ON journal (bench, live, kind, id);
CREATE INDEX ix_orders_number ON orders (number);
CREATE INDEX ix_weighings_piece_id ON weighings (piece_id);
CREATE INDEX ix_movements_kind_name ON movements (kind, name);
CREATE INDEX ix_movements_piece_id ON movements (piece_id);
CREATE INDEX ix_ledger_mailed_on ON ledger (mailed_on);
CREATE INDEX ix_ledger_piece_id ON ledger (piece_id);
CREATE INDEX ix_pieces_together_with ON pieces (together_with);
CREATE INDEX ix_papers_piece_id ON papers (piece_id);
CREATE INDEX ix_pieces_handed_over_at ON pieces (handed_over_at);
COMMIT;
