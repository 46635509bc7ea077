-- A record as the coach of schema 6 wrote it; its answers are invented.
PRAGMA application_id = 1129333553;
PRAGMA user_version = 6;
BEGIN TRANSACTION;
CREATE TABLE "_sqlite_migrations" (
   "id" INTEGER PRIMARY KEY,
   "migration_set" TEXT,
   "name" TEXT,
   "applied_at" TEXT
);
INSERT INTO "_sqlite_migrations" VALUES(1,'record','m001_record','2026-11-27 15:49:28.749786+00:00');
INSERT INTO "_sqlite_migrations" VALUES(2,'record','m002_thresholds','2026-11-27 15:49:28.753155+00:00');
INSERT INTO "_sqlite_migrations" VALUES(3,'record','m003_decks','2026-11-27 15:49:28.765323+00:00');
INSERT INTO "_sqlite_migrations" VALUES(4,'record','m004_progress','2026-11-27 15:49:28.769441+00:00');
INSERT INTO "_sqlite_migrations" VALUES(5,'record','m005_journal','2026-11-27 15:49:28.777116+00:00');
INSERT INTO "_sqlite_migrations" VALUES(6,'record','m006_help','2026-11-27 15:49:28.785126+00:00');
CREATE TABLE "attempt_facts" (
   "seq" INTEGER PRIMARY KEY REFERENCES "attempts"("seq"),
   "target" TEXT,
   "facts" TEXT,
   "answers" TEXT,
   "verdict" TEXT
);
INSERT INTO "attempt_facts" VALUES(1,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(2,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(3,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker","help":"look, and one left out"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(4,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(5,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(6,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(7,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(8,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker","help":"look"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(9,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(10,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(11,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(12,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(13,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(14,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(15,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(16,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(17,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(18,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(19,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(20,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(21,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(22,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(23,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(24,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(25,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(26,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(27,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(28,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(29,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(30,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(31,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(32,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(33,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker","sure":true}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(34,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker","sure":false}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(35,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker","sure":true}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(36,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker","sure":true}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(37,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker","sure":false}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(38,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker","sure":true}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(39,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker","sure":true}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(40,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker","sure":false}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(41,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker","sure":true}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(42,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker","sure":true}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(43,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker","sure":false}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(44,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker","sure":true}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(45,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker","sure":true}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(46,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker","sure":false}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(47,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker","sure":true}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(48,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker","sure":true}','[["darker"]]','Yes: a touch darker.');
CREATE TABLE "attempts" (
   "seq" INTEGER PRIMARY KEY,
   "id" TEXT NOT NULL,
   "session" TEXT NOT NULL,
   "number" INTEGER NOT NULL,
   "kind" TEXT NOT NULL,
   "kind_version" INTEGER,
   "region" TEXT NOT NULL,
   "seed" INTEGER,
   "step" REAL,
   "easiest" REAL,
   "hardest" REAL,
   "chance" REAL,
   "pencils" TEXT,
   "score" REAL NOT NULL,
   "right" INTEGER NOT NULL,
   "error" REAL,
   "unit" TEXT,
   "outcome" TEXT,
   "response_s" REAL,
   "at_utc" TEXT NOT NULL,
   "zone" TEXT,
   "day" TEXT NOT NULL,
   "deck" TEXT
);
INSERT INTO "attempts" VALUES(1,'c45d9230-6a2c-50c3-846a-b646a414ea67','20260302-0',0,'lighter-or-darker',1,'violet',214192146929019,7.565,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔL*','held',6.69,'2026-03-02T09:00:00.000000+00:00','+00:00','2026-03-02','');
INSERT INTO "attempts" VALUES(2,'b258ac53-2125-515d-995f-7806ca4b0af7','20260302-0',1,'lighter-or-darker',1,'violet',121811241697933,3.326,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔL*','held',10.14,'2026-03-02T09:15:00.000000+00:00','+00:00','2026-03-02','');
INSERT INTO "attempts" VALUES(3,'84aab0d8-d3e6-56a7-a315-5dd8503ec2c7','20260302-0',2,'make-the-match',1,'red',266071468004545,3.346,8.0,1.5,1.0,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔE00','shaky',4.95,'2026-03-02T09:30:00.000000+00:00','+00:00','2026-03-02','');
INSERT INTO "attempts" VALUES(4,'a2d542a7-d0a4-5463-b41e-14e5cee2f19a','20260302-0',3,'lighter-or-darker',1,'red',107300657859289,10.382,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔL*','held',10.26,'2026-03-02T09:45:00.000000+00:00','+00:00','2026-03-02','');
INSERT INTO "attempts" VALUES(5,'916c9ba3-923e-5c64-a80a-070d4c4b6c44','20260302-0',4,'hue-and-lean',1,'red',214186663741609,0.238,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',0.16,0,2.5,'wheel steps','lost',7.11,'2026-03-03T09:00:00.000000+00:00','+00:00','2026-03-03','dddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddd');
INSERT INTO "attempts" VALUES(6,'7fc31f40-17f0-5e44-8acd-751ceaecc30e','20260302-0',5,'lighter-or-darker',1,'red',52326016065087,3.205,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔL*','held',10.19,'2026-03-03T09:15:00.000000+00:00','+00:00','2026-03-03','');
INSERT INTO "attempts" VALUES(7,'772e2249-bfd0-5a4a-8dc6-2aa7f054b529','20260302-0',6,'hue-and-lean',1,'green',200184015818574,0.122,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','held',7.51,'2026-03-03T09:30:00.000000+00:00','+00:00','2026-03-03','');
INSERT INTO "attempts" VALUES(8,'1f03ec0d-a2ee-5df2-9ce4-46bde12b7ac6','20260302-0',7,'make-the-match',1,'red',248399319538792,5.041,8.0,1.5,1.0,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',0.2,0,2.5,'ΔE00','lost',7.33,'2026-03-03T09:45:00.000000+00:00','+00:00','2026-03-03','');
INSERT INTO "attempts" VALUES(9,'ab02d0e8-5aa1-57e8-b593-797b1929b34b','20260302-0',8,'hue-and-lean',1,'violet',224449595253196,0.186,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','held',6.07,'2026-03-04T09:00:00.000000+00:00','+00:00','2026-03-04','');
INSERT INTO "attempts" VALUES(10,'7787e97b-1ca3-5a8e-a0ef-3084a50e6db3','20260302-0',9,'hue-and-lean',1,'red',105470387531856,0.138,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','held',5.36,'2026-03-04T09:15:00.000000+00:00','+00:00','2026-03-04','');
INSERT INTO "attempts" VALUES(11,'69ed0d03-f643-5d57-849f-02b97aed4b4b','20260302-0',10,'hue-and-lean',1,'red',86840130534316,0.293,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','held',8.21,'2026-03-04T09:30:00.000000+00:00','+00:00','2026-03-04','');
INSERT INTO "attempts" VALUES(12,'4a84d492-b21e-576e-9be2-6eb494fd6da2','20260302-0',11,'lighter-or-darker',1,'violet',56160006766909,2.967,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔL*','held',8.98,'2026-03-04T09:45:00.000000+00:00','+00:00','2026-03-04','');
INSERT INTO "attempts" VALUES(13,'70b0d5a7-6663-5a86-8811-d0f78658a682','20260302-1',12,'lighter-or-darker',1,'green',99439564446798,3.082,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔL*','held',7.11,'2026-03-05T09:00:00.000000+00:00','+00:00','2026-03-05','');
INSERT INTO "attempts" VALUES(14,'d2109842-99fe-5188-a15e-d07a051a1eab','20260302-1',13,'make-the-match',1,'red',241213024084251,5.702,8.0,1.5,0.02,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔE00','held',17.54,'2026-03-05T09:15:00.000000+00:00','+00:00','2026-03-05','dddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddd');
INSERT INTO "attempts" VALUES(15,'e51fee59-1fc8-5024-868e-dc8cd14468c9','20260302-1',14,'make-the-match',1,'violet',102666339941452,4.303,8.0,1.5,0.02,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',0.04,0,2.5,'ΔE00','lost',7.85,'2026-03-05T09:30:00.000000+00:00','+00:00','2026-03-05','');
INSERT INTO "attempts" VALUES(16,'268aff54-db02-5023-ad17-f374dbf3ee24','20260302-1',15,'make-the-match',1,'green',151565107714984,4.337,8.0,1.5,0.02,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔE00','held',8.41,'2026-03-05T09:45:00.000000+00:00','+00:00','2026-03-05','');
INSERT INTO "attempts" VALUES(17,'1cff4a80-8176-56ab-977f-be102fda440a','20260302-1',16,'hue-and-lean',1,'violet',49880184106527,0.134,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','held',7.71,'2026-03-06T09:00:00.000000+00:00','+00:00','2026-03-06','');
INSERT INTO "attempts" VALUES(18,'d593e27f-ed23-5a34-a711-80b5a63b8c50','20260302-1',17,'lighter-or-darker',1,'green',23425054227750,10.076,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',0.66,0,2.5,'ΔL*','shaky',11.73,'2026-03-06T09:15:00.000000+00:00','+00:00','2026-03-06','');
INSERT INTO "attempts" VALUES(19,'fe8350e5-0e59-548e-921f-e724a830901a','20260302-1',18,'hue-and-lean',1,'violet',96946794700005,0.135,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','held',6.22,'2026-03-06T09:30:00.000000+00:00','+00:00','2026-03-06','');
INSERT INTO "attempts" VALUES(20,'4dc48d5e-607c-5476-b519-d0e6278fae09','20260302-1',19,'hue-and-lean',1,'violet',200294288891491,0.155,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','easy-won',4.6,'2026-03-06T09:45:00.000000+00:00','+00:00','2026-03-06','');
INSERT INTO "attempts" VALUES(21,'3ce0020d-6561-5ba2-8f06-5166a9ca813c','20260302-1',20,'hue-and-lean',1,'violet',118478147504844,0.22,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','held',9.72,'2026-03-07T09:00:00.000000+00:00','+00:00','2026-03-07','');
INSERT INTO "attempts" VALUES(22,'5415b345-d36f-5e85-b357-c43575c37c59','20260302-1',21,'hue-and-lean',1,'red',229975877810760,0.112,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',0.68,0,2.5,'wheel steps','shaky',6.87,'2026-03-07T09:15:00.000000+00:00','+00:00','2026-03-07','');
INSERT INTO "attempts" VALUES(23,'f3d316cf-5b58-521e-8132-acbd9457dd24','20260302-1',22,'lighter-or-darker',1,'red',234258445736397,4.388,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔL*','held',11.28,'2026-03-07T09:30:00.000000+00:00','+00:00','2026-03-07','dddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddd');
INSERT INTO "attempts" VALUES(24,'4876ab9b-5e6b-5d5a-a620-0915e2a117d8','20260302-1',23,'lighter-or-darker',1,'violet',226132501373964,6.319,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔL*','held',5.3,'2026-03-07T09:45:00.000000+00:00','+00:00','2026-03-07','');
INSERT INTO "attempts" VALUES(25,'3c2a3437-3ae4-58f2-a585-f0d401ed42e8','20260302-2',24,'lighter-or-darker',1,'violet',13356813714237,3.021,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔL*','held',2.89,'2026-03-08T09:00:00.000000+00:00','+00:00','2026-03-08','');
INSERT INTO "attempts" VALUES(26,'0daa9d58-4225-5126-ad5f-bb64ac97a6b1','20260302-2',25,'hue-and-lean',1,'green',36701579414136,0.142,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',0.29,0,2.5,'wheel steps','lost',7.46,'2026-03-08T09:15:00.000000+00:00','+00:00','2026-03-08','');
INSERT INTO "attempts" VALUES(27,'1ae7c54e-d63f-5924-b3d4-30387a478211','20260302-2',26,'hue-and-lean',1,'red',166466201964991,0.153,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','held',5.85,'2026-03-08T09:30:00.000000+00:00','+00:00','2026-03-08','');
INSERT INTO "attempts" VALUES(28,'3e255683-5767-5db2-b195-5bdf6d4fe1ec','20260302-2',27,'make-the-match',1,'red',172298305395272,4.096,8.0,1.5,0.02,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔE00','held',9.91,'2026-03-08T09:45:00.000000+00:00','+00:00','2026-03-08','');
INSERT INTO "attempts" VALUES(29,'0ac99826-96d9-5d93-9598-43085f4566b8','20260302-2',28,'lighter-or-darker',1,'violet',154146085000837,3.573,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔL*','held',2.97,'2026-03-09T09:00:00.000000+00:00','+00:00','2026-03-09','');
INSERT INTO "attempts" VALUES(30,'bf3c3580-427d-59ae-aa6b-ad34d2524def','20260302-2',29,'make-the-match',1,'red',11371894281781,4.892,8.0,1.5,0.02,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔE00','easy-won',5.24,'2026-03-09T09:15:00.000000+00:00','+00:00','2026-03-09','');
INSERT INTO "attempts" VALUES(31,'62dd1ffb-941b-5629-b6aa-0ec4ccf6293a','20260302-2',30,'make-the-match',1,'green',71858415497344,3.83,8.0,1.5,0.02,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔE00','held',6.44,'2026-03-09T09:30:00.000000+00:00','+00:00','2026-03-09','');
INSERT INTO "attempts" VALUES(32,'d0c37b8d-361f-59cc-bb33-cae18b7600a7','20260302-2',31,'hue-and-lean',1,'red',249742534728706,0.137,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','held',7.26,'2026-03-09T09:45:00.000000+00:00','+00:00','2026-03-09','dddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddd');
INSERT INTO "attempts" VALUES(33,'2ff8940d-4bf7-572f-ba4f-605b167f9df1','20260302-2',32,'lighter-or-darker',1,'green',279009090680207,9.561,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔL*','held',5.56,'2026-03-10T09:00:00.000000+00:00','+00:00','2026-03-10','');
INSERT INTO "attempts" VALUES(34,'47c42d5f-7cae-51bd-b9a4-7966b0672a39','20260302-2',33,'hue-and-lean',1,'red',268032080158793,0.241,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','held',13.33,'2026-03-10T09:15:00.000000+00:00','+00:00','2026-03-10','');
INSERT INTO "attempts" VALUES(35,'1bf42758-dd50-5374-97c7-fbef5ea76c9f','20260302-2',34,'hue-and-lean',1,'violet',172730752922408,0.136,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',0.58,0,2.5,'wheel steps','shaky',8.4,'2026-03-10T09:30:00.000000+00:00','+00:00','2026-03-10','');
INSERT INTO "attempts" VALUES(36,'e620e88b-25d5-5f16-a9ac-5df979d083a3','20260302-2',35,'lighter-or-darker',1,'violet',118504962920150,8.248,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',0.55,0,2.5,'ΔL*','lost',4.84,'2026-03-10T09:45:00.000000+00:00','+00:00','2026-03-10','');
INSERT INTO "attempts" VALUES(37,'f9ca7f94-8f64-5a88-98dc-76a3501aa21f','20260302-3',36,'make-the-match',1,'red',256355581748794,3.251,8.0,1.5,0.02,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔE00','held',8.69,'2026-03-11T09:00:00.000000+00:00','+00:00','2026-03-11','');
INSERT INTO "attempts" VALUES(38,'c91f4a11-fc2f-5b5e-8e1f-b03f1fe42fa8','20260302-3',37,'make-the-match',1,'green',183533434190661,4.637,8.0,1.5,0.02,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔE00','held',6.5,'2026-03-11T09:15:00.000000+00:00','+00:00','2026-03-11','');
INSERT INTO "attempts" VALUES(39,'347bf70e-b2d5-5f54-95ae-ffae8f4404cc','20260302-3',38,'hue-and-lean',1,'green',112181596335288,0.192,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','held',5.26,'2026-03-11T09:30:00.000000+00:00','+00:00','2026-03-11','');
INSERT INTO "attempts" VALUES(40,'4b6befe8-a754-5300-8ff7-10ac21b49335','20260302-3',39,'make-the-match',1,'red',72925777984056,3.202,8.0,1.5,0.02,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',0.33,0,2.5,'ΔE00','lost',5.62,'2026-03-11T09:45:00.000000+00:00','+00:00','2026-03-11','');
INSERT INTO "attempts" VALUES(41,'d336622b-65cd-5c41-978e-1d93079c8cf8','20260302-3',40,'lighter-or-darker',1,'violet',276793846391680,3.655,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔL*','held',8.95,'2026-03-12T09:00:00.000000+00:00','+00:00','2026-03-12','dddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddd');
INSERT INTO "attempts" VALUES(42,'1f9f967d-c816-54cf-be99-efedfdf7935a','20260302-3',41,'make-the-match',1,'violet',11554779654757,4.407,8.0,1.5,0.02,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔE00','held',6.21,'2026-03-12T09:15:00.000000+00:00','+00:00','2026-03-12','');
INSERT INTO "attempts" VALUES(43,'b13f5647-5b2a-535b-8788-8f6213298654','20260302-3',42,'make-the-match',1,'green',162970864986986,4.855,8.0,1.5,0.02,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',0.07,0,2.5,'ΔE00','lost',9.32,'2026-03-12T09:30:00.000000+00:00','+00:00','2026-03-12','');
INSERT INTO "attempts" VALUES(44,'86ccfae0-f8d5-5e41-8e69-bd4db72995b6','20260302-3',43,'lighter-or-darker',1,'violet',155148254958747,6.263,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔL*','held',9.66,'2026-03-12T09:45:00.000000+00:00','+00:00','2026-03-12','');
INSERT INTO "attempts" VALUES(45,'da35a0d7-24ca-5b0d-ba93-65b7485d09b7','20260302-3',44,'hue-and-lean',1,'violet',21703878897788,0.272,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',0.54,0,2.5,'wheel steps','lost',7.53,'2026-03-13T09:00:00.000000+00:00','+00:00','2026-03-13','');
INSERT INTO "attempts" VALUES(46,'30fa9e12-5772-5671-bcb2-e62102d96ac6','20260302-3',45,'lighter-or-darker',1,'violet',199656308758227,3.648,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',0.22,0,2.5,'ΔL*','shaky',8.35,'2026-03-13T09:15:00.000000+00:00','+00:00','2026-03-13','');
INSERT INTO "attempts" VALUES(47,'079e39c9-4b5f-5b20-878f-80cf882bc3ae','20260302-3',46,'hue-and-lean',1,'violet',203404971692969,0.261,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','held',4.62,'2026-03-13T09:30:00.000000+00:00','+00:00','2026-03-13','');
INSERT INTO "attempts" VALUES(48,'c1fe44a9-c265-5c9c-aee9-303c16712d74','20260302-3',47,'make-the-match',1,'red',57826106494810,3.26,8.0,1.5,0.02,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',0.52,0,2.5,'ΔE00','lost',5.01,'2026-03-13T09:45:00.000000+00:00','+00:00','2026-03-13','');
CREATE TABLE "days" (
   "day" TEXT,
   "kind" TEXT,
   "tries" INTEGER,
   "right" INTEGER,
   "seconds" REAL,
   PRIMARY KEY ("day", "kind")
);
INSERT INTO "days" VALUES('2026-03-02','lighter-or-darker',3,3,2.7090000000000003411e+01);
INSERT INTO "days" VALUES('2026-03-02','make-the-match',1,1,4.95);
INSERT INTO "days" VALUES('2026-03-03','hue-and-lean',2,1,1.46200000000000009947e+01);
INSERT INTO "days" VALUES('2026-03-03','lighter-or-darker',1,1,10.19);
INSERT INTO "days" VALUES('2026-03-03','make-the-match',1,0,7.33);
INSERT INTO "days" VALUES('2026-03-04','hue-and-lean',3,3,19.64);
INSERT INTO "days" VALUES('2026-03-04','lighter-or-darker',1,1,8.98);
INSERT INTO "days" VALUES('2026-03-05','lighter-or-darker',1,1,7.11);
INSERT INTO "days" VALUES('2026-03-05','make-the-match',3,2,33.8);
INSERT INTO "days" VALUES('2026-03-06','hue-and-lean',3,3,18.53);
INSERT INTO "days" VALUES('2026-03-06','lighter-or-darker',1,0,11.73);
INSERT INTO "days" VALUES('2026-03-07','hue-and-lean',2,1,16.59);
INSERT INTO "days" VALUES('2026-03-07','lighter-or-darker',2,2,16.58);
INSERT INTO "days" VALUES('2026-03-08','lighter-or-darker',1,1,2.89);
INSERT INTO "days" VALUES('2026-03-08','hue-and-lean',2,1,1.33099999999999987212e+01);
INSERT INTO "days" VALUES('2026-03-08','make-the-match',1,1,9.91);
INSERT INTO "days" VALUES('2026-03-09','lighter-or-darker',1,1,2.97);
INSERT INTO "days" VALUES('2026-03-09','make-the-match',2,2,11.68);
INSERT INTO "days" VALUES('2026-03-09','hue-and-lean',1,1,7.26);
INSERT INTO "days" VALUES('2026-03-10','lighter-or-darker',2,1,1.03999999999999985793e+01);
INSERT INTO "days" VALUES('2026-03-10','hue-and-lean',2,1,21.73);
INSERT INTO "days" VALUES('2026-03-11','make-the-match',3,2,20.81);
INSERT INTO "days" VALUES('2026-03-11','hue-and-lean',1,1,5.26);
INSERT INTO "days" VALUES('2026-03-12','lighter-or-darker',2,2,18.61);
INSERT INTO "days" VALUES('2026-03-12','make-the-match',2,1,1.55300000000000011364e+01);
INSERT INTO "days" VALUES('2026-03-13','hue-and-lean',2,1,12.15);
INSERT INTO "days" VALUES('2026-03-13','lighter-or-darker',1,0,8.35);
INSERT INTO "days" VALUES('2026-03-13','make-the-match',1,0,5.01);
CREATE TABLE "decks" (
   "fingerprint" TEXT PRIMARY KEY,
   "title" TEXT NOT NULL,
   "content" TEXT NOT NULL,
   "offers" TEXT NOT NULL,
   "added_utc" TEXT NOT NULL
);
INSERT INTO "decks" VALUES('dddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddd','First week','{}','null','2026-03-02T09:00:00.000000+00:00');
CREATE TABLE "journal" (
   "one" INTEGER PRIMARY KEY,
   "name" TEXT NOT NULL,
   "bytes" INTEGER NOT NULL,
   "length" INTEGER NOT NULL,
   "line" BLOB NOT NULL
);
INSERT INTO "journal" VALUES(1,'129056030cfcaa9507f447853f044217',31062,50,X'3931353663356433');
CREATE TABLE "kind_times" (
   "kind" TEXT PRIMARY KEY,
   "recent_s" TEXT
);
INSERT INTO "kind_times" VALUES('lighter-or-darker','[6.69,10.14,10.26,10.19,8.98,7.11,11.73,11.28,5.3,2.89,2.97,5.56,4.84,8.95,9.66,8.35]');
INSERT INTO "kind_times" VALUES('hue-and-lean','[7.11,7.51,6.07,5.36,8.21,7.71,6.22,4.6,9.72,6.87,7.46,5.85,7.26,13.33,8.4,5.26,7.53,4.62]');
INSERT INTO "kind_times" VALUES('make-the-match','[4.95,7.33,17.54,7.85,8.41,9.91,5.24,6.44,8.69,6.5,5.62,6.21,9.32,5.01]');
CREATE TABLE "pencil_sets" (
   "fingerprint" TEXT PRIMARY KEY,
   "name" TEXT,
   "csv" TEXT,
   "added_utc" TEXT
);
INSERT INTO "pencil_sets" VALUES('aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa','Invented tin','name,hex
Ember,#c03030
','2026-03-02T09:00:00.000000+00:00');
CREATE TABLE "settings" (
   "key" TEXT PRIMARY KEY,
   "value" TEXT
);
INSERT INTO "settings" VALUES('pencils','"aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa"');
INSERT INTO "settings" VALUES('minutes','12');
CREATE TABLE "skills" (
   "skill" TEXT PRIMARY KEY,
   "stability" REAL,
   "difficulty" REAL,
   "reviewed" TEXT,
   "due" TEXT,
   "tries" INTEGER,
   "right" INTEGER,
   "last_score" REAL,
   "mean_score" REAL,
   "step" REAL,
   "usual_step" REAL,
   "last_tried_utc" TEXT,
   "last_right_utc" TEXT
, "measured" TEXT);
INSERT INTO "skills" VALUES('lighter-or-darker:red',2.31889561342182304315e+01,2.10433139084644826866e+00,'2026-03-07','2026-03-30',3,3,1.0,1.0,4.388,7.24111866991813091232e+00,'2026-03-07T09:30:00.000000+00:00','2026-03-07T09:30:00.000000+00:00',NULL);
INSERT INTO "skills" VALUES('lighter-or-darker:green',1.63004972999141557461e+01,4.74333399934086319404e+00,'2026-03-10','2026-03-26',3,2,1.0,0.9456,9.561,4.67175065392154387211e+00,'2026-03-10T09:00:00.000000+00:00','2026-03-10T09:00:00.000000+00:00',NULL);
INSERT INTO "skills" VALUES('hue-and-lean:red',1.07901997188439633388e+01,7.55232111512758397253e+00,'2026-03-10','2026-03-21',7,5,1.0,7.4703104000000009055e-01,0.241,1.87538064281762117957e-01,'2026-03-10T09:15:00.000000+00:00','2026-03-10T09:15:00.000000+00:00',NULL);
INSERT INTO "skills" VALUES('hue-and-lean:green',4.05938969685471562343e+00,7.38233660783527678717e+00,'2026-03-11','2026-03-15',3,2,1.0,0.8864,0.192,1.36866345897332930547e-01,'2026-03-11T09:30:00.000000+00:00','2026-03-11T09:30:00.000000+00:00',NULL);
INSERT INTO "skills" VALUES('make-the-match:violet',3.44204801353222489268e+00,6.40211506929683782374e+00,'2026-03-12','2026-03-15',2,1,1.0,0.232,4.407,4.32360178001450723428e+00,'2026-03-12T09:15:00.000000+00:00','2026-03-12T09:15:00.000000+00:00',NULL);
INSERT INTO "skills" VALUES('make-the-match:green',1.91972856490124210715e+00,7.38997578801460885955e+00,'2026-03-12','2026-03-14',4,3,0.07,8.14000000000000056843e-01,4.855,4.41292157524494221831e+00,'2026-03-12T09:30:00.000000+00:00','2026-03-11T09:15:00.000000+00:00',NULL);
INSERT INTO "skills" VALUES('lighter-or-darker:violet',6.81383568403216521858e+00,8.23194630636613666752e+00,'2026-03-13','2026-03-20',10,8,0.22,0.79792,3.648,4.78413548452312564762e+00,'2026-03-13T09:15:00.000000+00:00','2026-03-12T09:45:00.000000+00:00',NULL);
INSERT INTO "skills" VALUES('hue-and-lean:violet',1.82491991556946553387e+00,8.24149808243229209381e+00,'2026-03-13','2026-03-15',8,6,1.0,0.87264,0.261,1.96035456578596140042e-01,'2026-03-13T09:30:00.000000+00:00','2026-03-13T09:30:00.000000+00:00',NULL);
INSERT INTO "skills" VALUES('make-the-match:red',1.25955773199269982498e+00,9.49475275872777402241e+00,'2026-03-13','2026-03-14',8,5,0.52,7.54856959999999910237e-01,3.26,3.6829617829981922128e+00,'2026-03-13T09:45:00.000000+00:00','2026-03-11T09:00:00.000000+00:00',NULL);
CREATE TABLE "trials" (
   "block" INTEGER,
   "skill" TEXT,
   "probe" INTEGER,
   "answers" BLOB NOT NULL,
   PRIMARY KEY ("block", "skill", "probe")
);
INSERT INTO "trials" VALUES(26417,'lighter-or-darker:violet',0,X'0164B1000164690003645F000664A1000764610008646F000964B8000B6471000B64A1000C647000');
INSERT INTO "trials" VALUES(26417,'lighter-or-darker:red',0,X'0164CD000264670006648100');
INSERT INTO "trials" VALUES(26417,'hue-and-lean:red',0,X'023284FF033255FF033297FF063242FF07325DFF083255FF093285FF');
INSERT INTO "trials" VALUES(26417,'hue-and-lean:green',0,X'02324BFF073256FF0A3271FF');
INSERT INTO "trials" VALUES(26417,'hue-and-lean:violet',0,X'03326FFF053253FF053253FF05325FFF06327DFF093252FF0C328EFF0C328DFF');
INSERT INTO "trials" VALUES(26417,'lighter-or-darker:green',0,X'046463000564C8000964C500');
INSERT INTO "trials" VALUES(26417,'make-the-match:red',0,X'0404990007047B0008048B000A0467000A0466000C046600');
INSERT INTO "trials" VALUES(26417,'make-the-match:violet',0,X'04047E000B048100');
INSERT INTO "trials" VALUES(26417,'make-the-match:green',0,X'04048100080475000A0487000B048A00');
CREATE UNIQUE INDEX "idx__sqlite_migrations_migration_set_name"
    ON "_sqlite_migrations" ("migration_set", "name");
CREATE UNIQUE INDEX "idx_attempts_id"
    ON "attempts" ("id");
CREATE INDEX "idx_attempts_kind_region_seq"
    ON "attempts" ("kind", "region", "seq");
CREATE INDEX "idx_attempts_at_utc"
    ON "attempts" ("at_utc");
CREATE INDEX idx_attempts_deck ON attempts (deck, seq) WHERE deck != '';
CREATE INDEX idx_attempts_match ON attempts (day, error, deck) WHERE kind = 'make-the-match' AND chance < 1.0;
CREATE INDEX idx_facts_sure ON attempt_facts (seq) WHERE instr(facts, '"sure":') > 0;
COMMIT;
