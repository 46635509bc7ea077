-- A record as the coach of schema 4 wrote it; its answers are invented.
PRAGMA application_id = 1129333553;
PRAGMA user_version = 4;
BEGIN TRANSACTION;
CREATE TABLE "_sqlite_migrations" (
   "id" INTEGER PRIMARY KEY,
   "migration_set" TEXT,
   "name" TEXT,
   "applied_at" TEXT
);
INSERT INTO "_sqlite_migrations" VALUES(1,'record','m001_record','2026-11-25 11:03:48.825372+00:00');
INSERT INTO "_sqlite_migrations" VALUES(2,'record','m002_thresholds','2026-11-25 11:03:48.840553+00:00');
INSERT INTO "_sqlite_migrations" VALUES(3,'record','m003_decks','2026-11-25 11:03:48.841700+00:00');
INSERT INTO "_sqlite_migrations" VALUES(4,'record','m004_progress','2026-11-25 11:03:48.842733+00:00');
CREATE TABLE "attempt_facts" (
   "seq" INTEGER PRIMARY KEY REFERENCES "attempts"("seq"),
   "target" TEXT,
   "facts" TEXT,
   "answers" TEXT,
   "verdict" TEXT
);
INSERT INTO "attempt_facts" VALUES(1,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(2,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(3,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(4,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(5,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(6,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(7,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(8,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
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
INSERT INTO "attempt_facts" VALUES(33,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(34,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(35,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(36,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(37,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(38,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(39,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(40,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(41,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(42,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(43,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(44,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(45,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(46,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(47,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
INSERT INTO "attempt_facts" VALUES(48,'[50.0,20.0,-30.0]','{"choices":["lighter","darker"],"truth":"darker"}','[["darker"]]','Yes: a touch darker.');
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
INSERT INTO "attempts" VALUES(3,'84aab0d8-d3e6-56a7-a315-5dd8503ec2c7','20260302-0',2,'make-the-match',1,'red',266071468004545,3.346,8.0,1.5,0.02,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔE00','held',4.95,'2026-03-02T09:30:00.000000+00:00','+00:00','2026-03-02','');
INSERT INTO "attempts" VALUES(4,'a2d542a7-d0a4-5463-b41e-14e5cee2f19a','20260302-0',3,'lighter-or-darker',1,'red',107300657859289,10.382,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔL*','held',10.26,'2026-03-02T09:45:00.000000+00:00','+00:00','2026-03-02','');
INSERT INTO "attempts" VALUES(5,'916c9ba3-923e-5c64-a80a-070d4c4b6c44','20260302-0',4,'hue-and-lean',1,'red',214186663741609,0.238,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',0.16,0,2.5,'wheel steps','lost',7.11,'2026-03-03T09:00:00.000000+00:00','+00:00','2026-03-03','dddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddddd');
INSERT INTO "attempts" VALUES(6,'7fc31f40-17f0-5e44-8acd-751ceaecc30e','20260302-0',5,'lighter-or-darker',1,'red',52326016065087,3.205,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔL*','held',10.19,'2026-03-03T09:15:00.000000+00:00','+00:00','2026-03-03','');
INSERT INTO "attempts" VALUES(7,'772e2249-bfd0-5a4a-8dc6-2aa7f054b529','20260302-0',6,'hue-and-lean',1,'green',200184015818574,0.122,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','held',7.51,'2026-03-03T09:30:00.000000+00:00','+00:00','2026-03-03','');
INSERT INTO "attempts" VALUES(8,'1f03ec0d-a2ee-5df2-9ce4-46bde12b7ac6','20260302-0',7,'make-the-match',1,'red',248399319538792,5.041,8.0,1.5,0.02,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',0.2,0,2.5,'ΔE00','lost',7.33,'2026-03-03T09:45:00.000000+00:00','+00:00','2026-03-03','');
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
INSERT INTO "skills" VALUES('lighter-or-darker:red',2.31889561342182304315e+01,2.10433139084644826866e+00,'2026-03-07','2026-03-30',3,3,1.0,1.0,4.526952190421741129e+00,7.24111866991813091232e+00,'2026-03-07T09:30:00.000000+00:00','2026-03-07T09:30:00.000000+00:00','[1,[20.0,0.8],0.5,"2026-03-07",3,1,[0.7801344370614869,0.24341874652129755],0.6558059078936039,0.27508989042459614,0.09946639042482247,1.1822452244926291,"98BuPIfybjxCc2889YxwPHzVcjzzZ3c8wyCAPFtniDxaWJc89FuxPLD83DyIsBE9cEBIPZS0jD05isY9JLMKPnANPj5lz30+BoukPkWozj6mF/s+oHkTP5FxJz9IxTc/LwFDP9wjSD/Rw0Y/+xs/P0j9MT/FqSA/MKIMP2Th7j6o9MQ+x7udPsKLdT6X4Dk+/fUIPoauxD3E14k98hA9PQXF/jxBsqk8EqVhPFT1Fzxr39M78UmeO7k5hTuHe9g7gKjYO1Md2TsEHdo7qi/cO2FW4DurX+g7+mf3O9JGCTwi6yA8VpdIPOtThDwTC7Y84Q0APcrwND0NPX09jNmtPW+46D3gRxc+0pU+PjVcaD5o/Yg+Gy6cPoIrrD4ej7c+QVW9PhcDvT5ntrY+cByrPhhTmz7lu4g+rZRpPsutQT6z+hs+PSf0PWTRuT0Xook9f6VGPcnlCz36x8A8H3iCPOCMLjyZDek7FJGdO0OEXDsgTSU7zHULO5krnzwgTZ88aaSfPPBjoDxP8qE8mhGlPNQfqzyberY8/Q7LPCEa7zxBCRY9kstHPZcFiz2TKcY9N+wNPqE0ST42nIs+iiW8PmPQ9D5tKRk/PuA3Pz+5Uz8IHmo/1jB5PwAAgD/cdn4//i51P8ZBZT/EJFA/pIk3P/o3HT8C4AI/Sd7TPpzipj5nC4A+q5k/PufzCz7L4cc9vsmLPQj1Pz0H4wE93kSuPAv9aTzjeh88/XHhO5faqjvTeJE7mlIQPP5wEDwgwBA8w20RPOrWEjyNqxU8/igbPFF0JTzEHDg8e8pYPCMJiDzoJ7U8YyD8PMK6Mz2MxoA9PLO2Pf/U/T3ZVCs+9HhfPhlEjD4fGqk+27fDPke72T5UVek+RH3xPu7r8T4A++o+9oLdPlPAyj4UObQ+QJmbPvuFgj7s31Q+zeEoPmN3Aj7AfsQ9ymeQPYFpTz1uzxE9myzJPMCziDxyGzg8SQb4O8yKqTtWRnA7qnY2O9+NGztmwW48sPNuPJ52bzzplXA8d+tyPGiadzzfV4A89tuIPFpLmDzBVLM8ohbhPLnxFT0S+lA92HKVPT5w1z3UMBo+9ItYPji1kz5THsI+R170PpvSEj8KoSc/Dek0P0XLOD9ydDQ/kdIqP+idHj8CYxE/RpIDPyIO6j69Oss+VzCrPkBhiz5dVFs+mDgnPhUq+D3IC7Q9GjaAPUm7Mz3qkPg8kAyqPO5HZzx5nh08ajLaO7WJnDtsXnA7MmpOO+Z72Dt9qdg7LyDZO6Mk2jtfQtw7VIHgO3y96Dt8Lvg7qxUKPNiYIjwoFUw8P/OHPBB5vTw8gAc9blZDPZfSiz3WccQ90h0GPuyOMD7U4l4+o3iGPkhtmj47/ac+sVKtPgs4qz4uEKQ+5yaaPgTSjj7BdYI+tfBpPlWQTD6kci0+RyQOPmst4T193aw9EyiBPcKlPD1VJAc9u2y+PBo8hDxliDU8ZYf3OxoDqTvmSmo7OUAoO0dDATuvFd46",[]]');
INSERT INTO "skills" VALUES('lighter-or-darker:green',1.63004972999141557461e+01,4.74333399934086319404e+00,'2026-03-10','2026-03-26',3,2,1.0,0.9456,7.30094944325804640072e+00,4.67175065392154387211e+00,'2026-03-10T09:00:00.000000+00:00','2026-03-10T09:00:00.000000+00:00','[1,[20.0,0.8],0.5,"2026-03-10",3,1,[0.7501106976077625,0.2258085884013166],0.8633793411006871,0.2640771278993433,0.30850584890205096,1.3438357718651177,"zwv7Okwh+zpnXfs6oe37OpE2/ToBBAA7z/wCOzACCTv6thQ7eYoqO8GNUTtPNYo7njTBOy0jDDxby048GyWZPBdP4jx+viY9dXV1PTiWtD3WZQQ+kxlAPi6ZiD5Clbw+b6/6PhR7Hz9ffEE/8l9fPzw2dT8AAIA/TF1+P3nQcD8/h1k/tsU7PwkpGz+/8/U+DGy7Pju/iT7IJkQ+CDMIPlpXuj2yAn892zUyPXRWAj1Qwss8Y0ysPGSdnTy1x4o7utOKO1r1ijsARos7zf2LO5uQjTuF4ZA7MZiXO6KjpDuA8rw7r13oO/FWGTwQRVY8dQGbPF8g4zxBtiU9Ej1uPXi/pz3w0OY91BIbPmmJSz5Rf4I+I2ejPoaCxz4+/Ow+3IsIPxk1GD9+ryM/QHYpP7uiKD8aJiE/1NATP0kmAj/rF9w+v9qyPt7aiz6I1VI+vpcZPj4o2T3e6JU9bh9MPU8fCz0pz8E8MFyNPI6FXDxCNTo8pkwqPOtdJzsxbSc76ZcnOzj+Jzun5ig7BeIqO3YLLzvhczc7/8lHO4ZNZjtHho47QKO9O8qkBTxUyEI850WPPJzA0DwjthQ97ZVNPepNiT0u5LA9qt7bPUtIBD6mhxs+6SE2Pn2qWj65AIo+B9K2PnLq9T6H+SA/K9xGP1xLZD+OnnI/BUtvPwI7XD8GXD4/QIwbP2fX8T4L/rM+6CGBPjscND5d+fY97COpPfVfbD26uSw9at4GPVz24zzH/9A8Bwu5OwwcuTuqS7k7rL25O5DAujto9bw7+ZbBO9jwyju2Gd07pwD/O1jmHTxhM1I8DDGUPJYN2Dyr+R49UcBnPSw5pT35qOQ96+0YPpZWRT6jkXU+3nuTPoFnqz7ynME+tBrWPhX46T77yv4+npsKPzK4FT9+fh4/5igiP1+uHj/zrRM/fIQCP5ZY2z5wvK8+kb6GPuOiRj4niQ0+W3LEPeo1hj3aWDc9oLn/PN2WujzFipE8BNp1PE5lYTzgDPs6yCP7Otxj+zpT/fs6+1n9OoQpADuaSAM7/JYJOzbYFTs9vyw78+VVO4t7jjtxbsk7FZ8TPJH/Wjz3JaE80LHnPNvqID1LYFY9b36IPdYzpj15JsI9Dp3aPYtn7j3/4vw9KLEDPjW2Cj4iBh0+ZWhLPiZZkj5CYtA+hE4GPxFWGD+lRBk/FY4LP/SW6j7z8Lg+xHiKPp3/Rj7Cpgo+jay9PUN5gT3RQDQ9NDIDPWcvzDxlNKw8HQuePEXIijsJ1Yo7wPiKO0FOiztsEIw7DriNOzwxkTu3NJg7CdSlO9lFvzuH9+w7AusdPJ5NXzxZp6M8XcPyPHOiMj1PdIA9Q5KyPXBA7j28Cxg+37Y5PhfCWT7sNnY+v9GGPqZ+jz4r6JQ+L5eXPvxsmT4pyJ0+YJCnPt+ItT58GcE+8XvCPhV9tj4VlZ8+lASDPu6/Sz49TBc+Z1PYPbk8lj24Fk09L8wLPXdwwjwtbo086wVcPPqEOTzHQCo8",[]]');
INSERT INTO "skills" VALUES('hue-and-lean:red',1.07901997188439633388e+01,7.55232111512758397253e+00,'2026-03-10','2026-03-21',7,5,1.0,7.4703104000000009055e-01,2.01477134230671289794e-01,1.87538064281762117957e-01,'2026-03-10T09:15:00.000000+00:00','2026-03-10T09:15:00.000000+00:00','[1,[0.5,0.04],0.25,"2026-03-10",7,1,[-0.684948500216801,0.2720294101747089],-0.6957742350858035,0.20696827088079395,-1.0971056801874484,-0.27529879351498654,"1zF+OT+3gzlaHI45TUWhOY4owzknEv85Oy01OiVQizpgruQ6sn5EO3OArTulKRs8UwyLPO119zxXj1g9zmy4PQ85Fz7CjWw+1jSvPhGV9D6MciA/B61FPyPQZD8hOHk/AACAP1KweD9ALWU/KgFJP5VaKD9PHAc/oH3QPuwomz7SeF8+xDgcPg671D1RoY09HKI5PY4k8zwAR6U8t819PM0f2ToHG+E6PeHyOpM+CTunfyM7bOZNO/uwiDt96r07c6kIPNaLSTyhuJY8iHDiPEFqKT3SpHo9+zC2PaByAT6U8TI+Bo9vPv+hmj67wr8+Sa/jPo0ZAT8QnQs/QeUPP9BhDT/5jQQ/K43tPnTXyz6+5Kc+PxGFPnWBSz6NihY+DgzYPX3Mlj2uX009NfAIPZT0szz9imw8AnohPEv3+DvqT6k5by6vOWYPvDn0sNI55rr3ORYKGTrio0U6CA6EOiD7tDqm1P46hT08O/jLljtXhQQ8QB93PMfM5zyIwFI96323PXVnGT50+3Y+rSG+Pl3CCT8wlzg/qsJhP2OUej+9r3w/vvRoPz87Rj/1dR0/w0XsPgBZqT6xV2o+PfIdPoD60D1Ghog9LgIxPQG25DwJIpQ8nBNDPBViBzyPdNU70LcQO5v6FTsQoCE7uBg2OzluVzuUyYU7jFatO7us5zutzh08ZEhZPOgAlzxMYNU8l+EaPfGwZz0HT7A9kysFPrPOQj4vxIc+FCyzPiLW3z6jfAQ/S20UP17DHD80ZRs/mDQQPwm8+j6TCc0+0sGePquqaj7O+CY+dKbmPfnKmz28Hk899y8IPTfhsTwmoGc8ri8XPBiXyDtUK4w7siZeO9/3fTnTYoM5jQuNObcEnjkrzLk5q47lOfY1FDo51kU6ubKGOkDMuDqZ9vw6SIIsO5xbcjs8ZsE73QA8PJc5yjxEZ089Z327PXxFEz7tiE0+wDuEPiCroT7dh7w+9fTMPmgzyj4oWbM+KH2QPtnfVz5L/Rg+o/vRPSPXjT2M1j49GdEAPSAvrzyyTHA8ozgmPMNE6Dtfg6U7kQd4OwqSTzu4E9k66ffgOhlw8jqKkgg7qpIhO0euSDvs/4E7vbStO5tI7DsUpyE8/WdcPPDmlDyoVMg8L9kJPezGSj0mpaE99XIEPmyGTT6QeY4+n+ysPp6BuT6RPbU+2fumPn/Okz6ypno+8KFJPql8GT5UqN49q9ObPaVaVT1GmRA9QMrDPFUrhTysgjY8zyb8O22Crzt4g3Y7kmIwO62RBDsTT946",[]]');
INSERT INTO "skills" VALUES('hue-and-lean:green',4.05938969685471562343e+00,7.38233660783527678717e+00,'2026-03-11','2026-03-15',3,2,1.0,0.8864,2.36912675348775469963e-01,1.36866345897332930547e-01,'2026-03-11T09:30:00.000000+00:00','2026-03-11T09:30:00.000000+00:00','[1,[0.5,0.04],0.25,"2026-03-11",3,1,[-0.6010513846801627,0.23466908432846145],-0.6254117029464354,0.2146937658026356,-1.016802422857318,-0.1724732048752108,"R6RQOnIXUTrURVI6/+ZUOjZ9WjqcDGY6PIB9Ojo6ljqp7sQ69skQO8olbDtaz8473TU7PIKUqTz8MxY9HCuAPQjZ0D1mqSE+mTVtPvPSpD5HAdk+wXgHP3KhID/WLDU/OrtCP/bRRz/oHEQ/Z2w4P+N2Jj9SdRA/QW/xPqSUwj7heJc+LCVkPnSFJj56Luw9vKujPXvgYD11bR89YGr8PA4S4zoKjeM6AsrkOmV25zry6uw666b3OkUNBjvx9hg76gY7OwL7djviM687PFoDPKXOSzzYUaA82GL7POnIQT37XZE9QqPSPU+fEj6HdUM+GQZ5Pt17lz6Q/K8+BlbDPr1Vzz7isdI+RUHNPl/zvz5QkKw+JVeVPtkreT53pkg+Li4cPplZ6z3u8as9tjN0Pd2BKT3iVOk8P7+lPMt3gzyxF4s65mGLOlsgjDpluY06mPWQOsBBlzqtE6M6o3i4OunM3TqgVA47D9hBO88dizu53NM72ksvPEn7nzzGiBw9/HaaPXN1ET5BB30+1VrIPnbtDz8qHTw/HxlhPzCueD8AAIA/X9d3P4ycYz8j0kc/DMsoP0vtCT+h89o+hlKpPkCzfz7eyDw+u3EIPthawT0g6oY92dQ7PcmABz0HrNo872EXOza0FzuBhxg770waOwfiHTse2SQ7r+cxO7aBSTv8nXI7h8ibO0B40zszNxU8VpxXPCFxnjxCe+08B002PeKPjj00ut49ITgpPic+dD7N3aQ+LL7OPqa68D70pQI/HggFP0EAAD8Cd+o+ncjNPuIWrj4ho44+ejVjPj9iMD4MtgU+NTXGPd/Hjz2Mb0w9JxMPPci3xzwNZ5A8XXNpPImjUDrYElE6iDBSOheWVDpocFk6yeJiOtOedDqIXoo6x2umOmap1TrmIxE77tlMOwD9kjuIMtM79vAZPP4GcjwAAt487/hrPWjl/T1/s3U+9S7MPvALED8+fS0/vy82P0QhLD8VNRc/3wz+PoVS0D7Jz6g+YeOHPuZVWT5gKSw+c44GPsa8zj2fq5s9UIFlPewbJj25++4841+xPIxpkjznEuM6UI7jOkHL5Dpmc+c6D9PsOtlF9zp8bgU73SUXO3MNNjtfBmo7RhmfO+qZ4DseFiE8GF9mPG6WojxptuM8wm8iPcWEdT3Vg8Q9/QcdPkAeaj7buZs+geK1PrZAvD7FAbE+EKmbPqpcgz5uylg+LdwwPslEDz4KYuY9bUq3Pd26jz0OX109U/smPV589jyRjbI8HIWAPLnaPjzZlB08",[]]');
INSERT INTO "skills" VALUES('make-the-match:violet',3.44204801353222489268e+00,6.40211506929683782374e+00,'2026-03-12','2026-03-15',2,1,1.0,0.232,5.29268774139095,4.32360178001450723428e+00,'2026-03-12T09:15:00.000000+00:00','2026-03-12T09:15:00.000000+00:00','[1,[8.0,1.5],0.02,"2026-03-12",2,1,[0.6596315767456895,0.23474170394531665],0.7236762721905518,0.19052401052527648,0.32384256393780797,1.1014310429887735,"rFt3OryFiDqO56Q6yMDXOu7tFjtfCF87hpisO4HSCjxfxGU8RNHAPLdEIT0TNoQ9PabRPQU8Hz6cU2Y+1xSePlGZzT5LQv0+/skTPyePIz9A1is/8JkrP0kcIz8uyBM/76H/Ptxk0z6Bbqc+fot+PmwsOj44ZAU+cV3CPSHhmT32SgU7jwMTO86YMTtHXGc7QlyfO19+4zs1oSU87StzPDSosjyuuAI9rq49PSrIhz2psL49eIkCPrQzLT6Al10+yCOIPpk0oD7sOLQ+DJ7BPkmTxj4UcsI+tN61PiGaoj5qF4s+oe9jPgkmMz7bTAc+stbEPVRfjD2fwEs9j/MgPX/ZpDpMzbU6ZuHaOv/cDTuIJUI7XSuJO6tNxDs5HAw8XORFPEbtijxt4sY8cDIXPYiIeT0iTNk9fpI8Pm1hmz7Fkew+bHskPx5mUD8RI3E/AACAP/3Iej8eFWQ/fcFBP12mGj/LQ+k+NR+nPq6xZD5hPxY+bHbBPUhMfj2YnDc93LUxO8r2QzsQj2w7FcWZO6PK0jv57BQ8iNNUPC9+lzzes9Q806MSPRAhRz1nj4Y9io23PWi7/j2FmzI+0QJ4Pgxrpj6dm9M+PMn7PiRcCz+CWg8/uUUJPzeU9T4mFs4+9AOjPsVBdD7zJy4+O4PtPRexmz2bNEg9jYQDPaoLvjw9Rnc6+VmIOgwppDp/y9Q6JpwRO/jATTu1OJM7vAvSO0O9Ezz5bUs8F3mIPLeIsjzmCew8BTYyPTcDpj2WESg+LUKePiRyAD8h0y8/ORFMP99UTD/2IjQ/F6UOP//Yzj5F1os+kk4zPsh63T26qIU9sKcfPfF7wTwyfng8tn42PGVIBTsY+RI7TGsxO5+nZjv6F547cWPfO0ieHzzxNWM8MV2fPGHF2jyqThI9ykw+PdBkcj3yJJw9crHVPSUmHT4GQ2s+OLOlPu1F0D4YY+U+HDfePlXNvz6Q2pU+lYVXPu4LET79q7k9AHdlPdrNCj3BbKY8lKFKPCrHAjyEDME7",[]]');
INSERT INTO "skills" VALUES('make-the-match:green',1.91972856490124210715e+00,7.38997578801460885955e+00,'2026-03-12','2026-03-14',4,3,0.07,8.14000000000000056843e-01,4.78920191581224585775e+00,4.41292157524494221831e+00,'2026-03-12T09:30:00.000000+00:00','2026-03-11T09:15:00.000000+00:00','[1,[8.0,1.5],0.02,"2026-03-12",4,1,[0.7153943931679109,0.21283343941938848],0.6802631475613984,0.18175062953231033,0.27557132138487006,1.0172578150670513,"eHcAO7ZqBDsd8w07qbcgO5MjQzunhn87uvuyOwUSBDz60Uo8WE6hPBSaBD1lXV899gu9Pc3THD6eTHk+JsC6PoOKAj/ScSk/bNpLP7deYz+hc2s/TtliP2nYSz/4SSs/Q/QGP2Duxz6fn4s+mXA4PhGL5z1HyYs9/u0oPSOz6zyt5Ic7/RGMO3klljvO9ak7iy/OO+CdBjxmFjs8n2KHPKCGxzyVRBM9G7dXPcQQnD1ra949CnMbPgSwUz7jNos+UUevPsKc0T4Ctew+E3b7PorN+j4Ftuo+6y3OPgkxqj5TN4Q+Q7NBPpgTBj403q89go5bPbP5Az3e8548Hx5dPPRKKzsKkTA7Rkw9O/1dVjtEJoI7xDyqOzEt7TtHDCw8p559PHEaujzB7AU9PiQ7PcD0fT1Snqw9UaH9PQLUUj65drc+zEwUP0JFUD9ud3k/AACAP1XzYz9wxTI/haf6PvFGnz7x2jk+c4TJPbJlTT2gPcc8MSQ7PN4usTuzg0Y7ADK1O/TFujsqPcg7GcHiOw+rCTzfETQ8od96PNb7tTxEIgY9cNpEPa+mjT0vssU9KMYEPvOJKz7n/Fc+Z92HPpLvrD7cf9k+sBABP0gkCz+AwgU/E5vkPqaarj5jonA+WDkXPlFFrz1/ZD09Ge3APDiIOzzy+rA7jsAoO9klvjo3eAA7yGwEOzX5DTt/xiA7czlDO7Nbfzsq5LE7sxABPIBfPjz+7os8+TXKPJQ/Dj1wVEE9rnR7PR50mj2JIrI9rJTbPX60RD5on8A+pHoKP09nCj/dess+Er9rPvhk5T3p2kY9sQGjPBfCBjyoB2876bLrOih7gDp/qhY6H/29OYDlhzt3FIw74C2WO9MQqjukgM47sg0HPCAqPDzKhIg8MV7JPDkEFD2o5FU95XeWPVqBzD3x/wQ+EV8jPqyVOj7GXkg+T4lgPpA+ij7wv5w+0BmNPmHDRT6iDuA9+xxYPft9uzz7ORs8s9WCO/8+7jr0N3E6yDAGOnNcnzm1Cko5",[]]');
INSERT INTO "skills" VALUES('lighter-or-darker:violet',6.81383568403216521858e+00,8.23194630636613666752e+00,'2026-03-13','2026-03-20',10,8,0.22,0.79792,6.56041247286109818759e+00,4.78413548452312564762e+00,'2026-03-13T09:15:00.000000+00:00','2026-03-12T09:45:00.000000+00:00','[1,[20.0,0.8],0.5,"2026-03-13",10,1,[0.811750992628768,0.2720294101747089],0.8169311456342004,0.27717985856804706,0.25610890572051737,1.3573733677689737,"W7QpOvuvKjo9+Cw6JkUxOpDmODo2HUY6h7dcOjaXgTqnW6I6RIHaOrebHTsbx3A7vRW/O6htGjyQPHo8km3JPB2DID1+4Hw9M1zEPZRwFT7+Jl0+IcqdPuKo1z7hiww/qVouP0nZTT9ImGc/qdV4PwAAgD/l5nw/25hwP7IHXT8AlkQ/c6wpPzRqDj/57eg+Hei5PhAIkT6ogV0+H9MlPi/P8z3Ua7A9WlN8PbfMMz1C/AE9Cq/FPFH4pzza7pw7+9adO1Xvnzv/1qM7OaKqO8sItju4pcg7XEvmO8k5Cjy2bC08NCRiPGLllzyJINA8UAEQPfRxRz1nKYk9XDa6PZpy+D1TbyI+Ms5PPujhgT7SbZ4+0ES8PniS2T5tGfQ+HMEEP+rgCz/9vA4/OxsNPx88Bz9DkPs+oVnjPjboxz6YPqs+QBePPsuKaT5jVzo+H4cRPii73j3VNqc9Ka12PUsoMz0goAA9iBC4PJ+fhTxsAUw8g8EtPJFQYjo3qGM668RmOrGYbDouyXY6yPuDOm4QkjpsiKg672rLOnYDADvDcCY7Mp1cO+sRkzsLv8M7onoDPO3YOTx/lpA8mmrzPBh1TT15zaI9RA3sPZPXHT6OAEk+Be99PmYHoz6andI+cLYEP2rPHj/qJTI/KSE7P/QPOT8Ysi0/JAQcPwkeBz/gDeM+LPm5PjQFlT4AO2o+u940PmtrCT5LvM09hwaYPQuWXj12tCI9BqLxPEiAvDxUuqI8GkjROyGG0jt0Z9U7B8zaOwA65DtLIPQ76RcHPB7jGzxBLTw87+NsPGANmjwWTsw83ToIPYKDND0UC2w9+ZiYPUg5xT1uwgA+FlEpPu/3Wz5e7Ik+P3akPkkFuj6SVMk+BKjTPpwv2z6S/OA+gTTkPqvl4j7pf9s+UsfNPrjauj65oaQ+piONPr4pbD4iUUE+ySUbPn2I9D3pcr095m6QPa71WD350SA9+CHsPGcMrTxHyYA8yk5JPFz5LTxtvCk6Kb4qOrMTLTqXcjE6Shc5OqP7RTopIVs66u18OgLLmDqgwcA6Rc37OltHKDu6KmM77PGYOxkMyztpaQM8JxUkPJDqRDw4znQ8KD/GPAL7Qz16Tas9IXTuPResCD53Mwo+Fz8HPougDz7jTS4+Mn9gPp/xij7u1p0+M+mjPhzGnT6HRI8+ID95PkoJUj5KuCw+ozELPnxc3D05iKs9x22DPfyLRj3fVxQ9wPfcPFncpjxUA4Q8PdhlPBT2nDuZ5J07mg2gOxYZpDvbK6s77hm3O0aryjuf8ek7F1UNPONOMjw88Wg8+LCbPOI40jwbmw09Ji08Pf4AdD32w5g9Uhu3PTmS0z1stvk9s7ofPreGUD6xRXs+/gSHPo15gz5eAHA+unpWPircRD5tfT4+ig4/Pl8IPz7OBzk+dOsrPnyTGT4mvgQ+7WvfPSPntz1beZQ9O4JrPf2kNz0r6gw9sR/VPIpgnzzJkG08bnwzPJUNDjyzX/c7",[["2026-03-12",0.64150833886411,0.3358892043660283]]]');
INSERT INTO "skills" VALUES('hue-and-lean:violet',1.82491991556946553387e+00,8.24149808243229209381e+00,'2026-03-13','2026-03-15',8,6,1.0,0.87264,2.26714959082339129192e-01,1.96035456578596140042e-01,'2026-03-13T09:30:00.000000+00:00','2026-03-13T09:30:00.000000+00:00','[1,[0.5,0.04],0.25,"2026-03-13",8,2,[-0.6237072741831755,0.21931463007497967],-0.6445198233557103,0.1946251188949046,-1.0397152618039147,-0.27169664064355653,"URqTOftgkznSIZQ5SeKVOcjCmTnAEKI5q2SzOS/c1jnaRQ86Af5WOttDsjrMdB072NKOOz7VATynOWo83LHRPJexOj3vgqQ9BXsNPr8VaT5wyLQ+W3UCP6cOLj//OFY/4mhzPwAAgD+EH3o/DftjPzy2Qj+PhRw/meTtPpCiqz7KGmw+t3IbPt3BxD0NkHA9mB4PPcmKqDxeCk486WATPPHgFzvFJBg7ZNgYO+RoGjtftB07J2AkOyZoMTu8BEo74RN3O06goztVDek71QEvPCJLhzzoxdI8YMsiPTnFdj3fdrY92DcDPtkgNz4oLHc+KIigPk54xz5ErOs+pLsDPzzlCj9J6wk/GvwAP42E4z6nor0+BceVPmzfYD799SA+uHDcPYbmkD0wiDc9+/jgPFBohjwOLh88COPDO2/YjDu9IMQ5tXfEOc9cxTm5V8c5SXnLOS6/0zltseM5TKMAOuALGzpXkUg6tLSKOr2GzDqSgyI7upyNOzQHBjwzy4I86cn2PPf+Vj2Ws6k9FFH2PVa9Lj72ZoI+oxbKPiAXFD+ywT4/cP5SP+TKST++HCo/nk8BP9JHtT6iIG8+7fYWPknzuD1iF149EqQDPXromjwaITY8lBrZO/uSiDuMT0g7sYFKO+3bSjufyUs7eNdNO1IgUjtltFo7PjxrOwryhDtUR6A7ghzPO7UhDjw7hks8NYSVPCJ33zzBfik9iNyBPW7jxT3MPRI+JYFMPqtIhT67RaI+pCu8Pk1x1D7Wm+k+ti/0PuYD7D4a/88+j0qnPu8qeD5qPiw+lSfjPStEkD2oeDI9qNLYPA4bgjwA9Ro8gkO4O4byXTv85Qw7hPXPOo4YkznIWZM5nAWUOcuBlTn/mpg5pc+eOcDGqjmp/cA587DoORV5Fjrg2U46ERKUOkjA1zolah47gcZxO8qEzDuDs0c8SWnRPHC+Sz1sHqg9TnPlPepAAj4rVwE+pqEPPtz3VT7iF5M+Xp+WPv9Fbj6q3B8+wk/GPZapcT2cURU9VsW8PPIiczzkNR48BZbOO4YPhzuVgDI7FHb2OgjwwDpF4Rc78SQYOzfXGDubYRo7RZgdO5EHJDvrbjA7inRHO/2VcDtdo5s7IwLWO8s1GTzQEF88xOyhPIOA6DzZHSY9kqdxPYkstj1VjAk+2QpCPoFccj7aBIM+cpV2PkF+Vj7O5UI+mV84PlKYHj7LCOs9JmabPS1lQj2a9/A8ZZmXPC6nQjw+xf077J+mOzwAWztP2g87ZcS+OjMDhDqx+046",[]]');
INSERT INTO "skills" VALUES('make-the-match:red',1.48929527003753126024e+00,9.20911679833323404409e+00,'2026-03-13','2026-03-14',8,5,0.52,7.54856959999999910237e-01,5.14728367205114256677e+00,3.6829617829981922128e+00,'2026-03-13T09:45:00.000000+00:00','2026-03-11T09:00:00.000000+00:00','[1,[8.0,1.5],0.02,"2026-03-13",8,1,[0.6486404322142518,0.2720294101747089],0.7115781033214066,0.1541599169496137,0.42351842340907586,1.03723055168049,"BKe1N93X0De3AgY4kdk7OIKgjzh9VvM4ON1nOZ2m9zkKL5A6c2IvO4do1Tu1v3o8HbUKPaAljj1eoQU+UVZlPkJTsz7aqf8+13YmPxKORj8Rqlk/4h1cPzQkTj93fTM/nOERPww63j7tRp8+Mt5XPtRMCz7X8609h/1bPS+QID3xkV066GB7Ok2onDqaoc46I8gMO71wRDvegYw7mB3PO4XZHTx/Tng8osPHPFwHIj3rRII93TfMPfzWGT7VP1w+ipaUPtLluz5O890+woX0Ps01+z4H3/A+r+fXPrJNtT6J/o4+VnRUPssiFT6HpMY9iat8Pe3XGz2vD8M8LEaNPEyf8DcTqgg4tMIpOK9mXTgGHpM4etfDOLuxATmD/Cs5YDlsOaVhtzkjozc6wtb7Ol7R0TsT1688ixKDPROxJD4gRqs+9yMTP9ISUj8crHs/AACAP+7sXz8VpSo/tJDlPnYQij5PZRY+AVKWPXfWCz2jaXY8MwTTO9hNOTuk58U6V6KTOvMwpzq5Rs86l/gGO4MZMzuV1207N4+cO8iVyztnNAM8bn4qPLHjZzw/da08jU4SPa2Jhj3OY/o9y8BbPjDcrT6WXfI++3UTP/tjHD9v/BA//FzsPlW3qj6Gf1w+F5oAPgLyiD3ftwY9SUV4PJ0m2jtM1js7mGGnOkqzNTq/d7Q3KgDNNzOo/jfsEyY4zbxcOALbkjj5ssE48Mv7OM/DIDmzfEo5CvqBOU/euzm0lkA6T646Ox1tdTxoNnk9QNgpPs7Hnz4MAto+TuTgPkFltT6RuWs+9P39PSHTaT3nZr484iQQPCuYXDts6786mXFNOjHCAjp387U5JHCEOd9zXTrVyno68HebOnp/yjrrYwY7qIwyO+0aazuXhZg7ED/COyZb8jttpBQ8bYs2PN7HbzwPAcQ84gdVPY069D1mWmc+ehCnPkH7uD7jcaE+lWZkPj42Bj7XH4Y9ScPpPLJ9NzyRoog79RLTOkoTPjqcn9M5KByKOVhdQjlCBQ45",[]]');
CREATE TABLE "trials" (
   "block" INTEGER,
   "skill" TEXT,
   "probe" INTEGER,
   "answers" BLOB NOT NULL,
   PRIMARY KEY ("block", "skill", "probe")
);
INSERT INTO "trials" VALUES(26417,'lighter-or-darker:violet',0,X'0164B1000164690003645F000664A1000764610008646F000964B8000B6471000B64A1000C647000');
INSERT INTO "trials" VALUES(26417,'make-the-match:red',0,X'0104690002048C000404990007047B0008048B000A0467000A0466000C046600');
INSERT INTO "trials" VALUES(26417,'lighter-or-darker:red',0,X'0164CD000264670006648100');
INSERT INTO "trials" VALUES(26417,'hue-and-lean:red',0,X'023284FF033255FF033297FF063242FF07325DFF083255FF093285FF');
INSERT INTO "trials" VALUES(26417,'hue-and-lean:green',0,X'02324BFF073256FF0A3271FF');
INSERT INTO "trials" VALUES(26417,'hue-and-lean:violet',0,X'03326FFF053253FF053253FF05325FFF06327DFF093252FF0C328EFF0C328DFF');
INSERT INTO "trials" VALUES(26417,'lighter-or-darker:green',0,X'046463000564C8000964C500');
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
CREATE INDEX idx_attempts_match ON attempts (day, error, deck) WHERE kind = 'make-the-match';
COMMIT;
