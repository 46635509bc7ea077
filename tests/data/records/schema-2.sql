-- A record as the coach of schema 2 wrote it; its answers are invented.
PRAGMA application_id = 1129333553;
PRAGMA user_version = 2;
BEGIN TRANSACTION;
CREATE TABLE "_sqlite_migrations" (
   "id" INTEGER PRIMARY KEY,
   "migration_set" TEXT,
   "name" TEXT,
   "applied_at" TEXT
);
INSERT INTO "_sqlite_migrations" VALUES(1,'record','m001_record','2026-11-25 11:03:33.451409+00:00');
INSERT INTO "_sqlite_migrations" VALUES(2,'record','m002_thresholds','2026-11-25 11:03:33.501990+00:00');
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
INSERT INTO "attempts" VALUES(5,'916c9ba3-923e-5c64-a80a-070d4c4b6c44','20260302-0',4,'hue-and-lean',1,'red',214186663741609,0.238,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',0.16,0,2.5,'wheel steps','lost',7.11,'2026-03-03T09:00:00.000000+00:00','+00:00','2026-03-03','');
INSERT INTO "attempts" VALUES(6,'7fc31f40-17f0-5e44-8acd-751ceaecc30e','20260302-0',5,'lighter-or-darker',1,'red',52326016065087,3.205,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔL*','held',10.19,'2026-03-03T09:15:00.000000+00:00','+00:00','2026-03-03','');
INSERT INTO "attempts" VALUES(7,'772e2249-bfd0-5a4a-8dc6-2aa7f054b529','20260302-0',6,'hue-and-lean',1,'green',200184015818574,0.122,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','held',7.51,'2026-03-03T09:30:00.000000+00:00','+00:00','2026-03-03','');
INSERT INTO "attempts" VALUES(8,'1f03ec0d-a2ee-5df2-9ce4-46bde12b7ac6','20260302-0',7,'make-the-match',1,'red',248399319538792,5.041,8.0,1.5,0.02,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',0.2,0,2.5,'ΔE00','lost',7.33,'2026-03-03T09:45:00.000000+00:00','+00:00','2026-03-03','');
INSERT INTO "attempts" VALUES(9,'ab02d0e8-5aa1-57e8-b593-797b1929b34b','20260302-0',8,'hue-and-lean',1,'violet',224449595253196,0.186,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','held',6.07,'2026-03-04T09:00:00.000000+00:00','+00:00','2026-03-04','');
INSERT INTO "attempts" VALUES(10,'7787e97b-1ca3-5a8e-a0ef-3084a50e6db3','20260302-0',9,'hue-and-lean',1,'red',105470387531856,0.138,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','held',5.36,'2026-03-04T09:15:00.000000+00:00','+00:00','2026-03-04','');
INSERT INTO "attempts" VALUES(11,'69ed0d03-f643-5d57-849f-02b97aed4b4b','20260302-0',10,'hue-and-lean',1,'red',86840130534316,0.293,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','held',8.21,'2026-03-04T09:30:00.000000+00:00','+00:00','2026-03-04','');
INSERT INTO "attempts" VALUES(12,'4a84d492-b21e-576e-9be2-6eb494fd6da2','20260302-0',11,'lighter-or-darker',1,'violet',56160006766909,2.967,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔL*','held',8.98,'2026-03-04T09:45:00.000000+00:00','+00:00','2026-03-04','');
INSERT INTO "attempts" VALUES(13,'70b0d5a7-6663-5a86-8811-d0f78658a682','20260302-1',12,'lighter-or-darker',1,'green',99439564446798,3.082,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔL*','held',7.11,'2026-03-05T09:00:00.000000+00:00','+00:00','2026-03-05','');
INSERT INTO "attempts" VALUES(14,'d2109842-99fe-5188-a15e-d07a051a1eab','20260302-1',13,'make-the-match',1,'red',241213024084251,5.702,8.0,1.5,0.02,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔE00','held',17.54,'2026-03-05T09:15:00.000000+00:00','+00:00','2026-03-05','');
INSERT INTO "attempts" VALUES(15,'e51fee59-1fc8-5024-868e-dc8cd14468c9','20260302-1',14,'make-the-match',1,'violet',102666339941452,4.303,8.0,1.5,0.02,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',0.04,0,2.5,'ΔE00','lost',7.85,'2026-03-05T09:30:00.000000+00:00','+00:00','2026-03-05','');
INSERT INTO "attempts" VALUES(16,'268aff54-db02-5023-ad17-f374dbf3ee24','20260302-1',15,'make-the-match',1,'green',151565107714984,4.337,8.0,1.5,0.02,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔE00','held',8.41,'2026-03-05T09:45:00.000000+00:00','+00:00','2026-03-05','');
INSERT INTO "attempts" VALUES(17,'1cff4a80-8176-56ab-977f-be102fda440a','20260302-1',16,'hue-and-lean',1,'violet',49880184106527,0.134,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','held',7.71,'2026-03-06T09:00:00.000000+00:00','+00:00','2026-03-06','');
INSERT INTO "attempts" VALUES(18,'d593e27f-ed23-5a34-a711-80b5a63b8c50','20260302-1',17,'lighter-or-darker',1,'green',23425054227750,10.076,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',0.66,0,2.5,'ΔL*','shaky',11.73,'2026-03-06T09:15:00.000000+00:00','+00:00','2026-03-06','');
INSERT INTO "attempts" VALUES(19,'fe8350e5-0e59-548e-921f-e724a830901a','20260302-1',18,'hue-and-lean',1,'violet',96946794700005,0.135,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','held',6.22,'2026-03-06T09:30:00.000000+00:00','+00:00','2026-03-06','');
INSERT INTO "attempts" VALUES(20,'4dc48d5e-607c-5476-b519-d0e6278fae09','20260302-1',19,'hue-and-lean',1,'violet',200294288891491,0.155,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','easy-won',4.6,'2026-03-06T09:45:00.000000+00:00','+00:00','2026-03-06','');
INSERT INTO "attempts" VALUES(21,'3ce0020d-6561-5ba2-8f06-5166a9ca813c','20260302-1',20,'hue-and-lean',1,'violet',118478147504844,0.22,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','held',9.72,'2026-03-07T09:00:00.000000+00:00','+00:00','2026-03-07','');
INSERT INTO "attempts" VALUES(22,'5415b345-d36f-5e85-b357-c43575c37c59','20260302-1',21,'hue-and-lean',1,'red',229975877810760,0.112,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',0.68,0,2.5,'wheel steps','shaky',6.87,'2026-03-07T09:15:00.000000+00:00','+00:00','2026-03-07','');
INSERT INTO "attempts" VALUES(23,'f3d316cf-5b58-521e-8132-acbd9457dd24','20260302-1',22,'lighter-or-darker',1,'red',234258445736397,4.388,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔL*','held',11.28,'2026-03-07T09:30:00.000000+00:00','+00:00','2026-03-07','');
INSERT INTO "attempts" VALUES(24,'4876ab9b-5e6b-5d5a-a620-0915e2a117d8','20260302-1',23,'lighter-or-darker',1,'violet',226132501373964,6.319,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔL*','held',5.3,'2026-03-07T09:45:00.000000+00:00','+00:00','2026-03-07','');
INSERT INTO "attempts" VALUES(25,'3c2a3437-3ae4-58f2-a585-f0d401ed42e8','20260302-2',24,'lighter-or-darker',1,'violet',13356813714237,3.021,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔL*','held',2.89,'2026-03-08T09:00:00.000000+00:00','+00:00','2026-03-08','');
INSERT INTO "attempts" VALUES(26,'0daa9d58-4225-5126-ad5f-bb64ac97a6b1','20260302-2',25,'hue-and-lean',1,'green',36701579414136,0.142,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',0.29,0,2.5,'wheel steps','lost',7.46,'2026-03-08T09:15:00.000000+00:00','+00:00','2026-03-08','');
INSERT INTO "attempts" VALUES(27,'1ae7c54e-d63f-5924-b3d4-30387a478211','20260302-2',26,'hue-and-lean',1,'red',166466201964991,0.153,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','held',5.85,'2026-03-08T09:30:00.000000+00:00','+00:00','2026-03-08','');
INSERT INTO "attempts" VALUES(28,'3e255683-5767-5db2-b195-5bdf6d4fe1ec','20260302-2',27,'make-the-match',1,'red',172298305395272,4.096,8.0,1.5,0.02,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔE00','held',9.91,'2026-03-08T09:45:00.000000+00:00','+00:00','2026-03-08','');
INSERT INTO "attempts" VALUES(29,'0ac99826-96d9-5d93-9598-43085f4566b8','20260302-2',28,'lighter-or-darker',1,'violet',154146085000837,3.573,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔL*','held',2.97,'2026-03-09T09:00:00.000000+00:00','+00:00','2026-03-09','');
INSERT INTO "attempts" VALUES(30,'bf3c3580-427d-59ae-aa6b-ad34d2524def','20260302-2',29,'make-the-match',1,'red',11371894281781,4.892,8.0,1.5,0.02,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔE00','easy-won',5.24,'2026-03-09T09:15:00.000000+00:00','+00:00','2026-03-09','');
INSERT INTO "attempts" VALUES(31,'62dd1ffb-941b-5629-b6aa-0ec4ccf6293a','20260302-2',30,'make-the-match',1,'green',71858415497344,3.83,8.0,1.5,0.02,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔE00','held',6.44,'2026-03-09T09:30:00.000000+00:00','+00:00','2026-03-09','');
INSERT INTO "attempts" VALUES(32,'d0c37b8d-361f-59cc-bb33-cae18b7600a7','20260302-2',31,'hue-and-lean',1,'red',249742534728706,0.137,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','held',7.26,'2026-03-09T09:45:00.000000+00:00','+00:00','2026-03-09','');
INSERT INTO "attempts" VALUES(33,'2ff8940d-4bf7-572f-ba4f-605b167f9df1','20260302-2',32,'lighter-or-darker',1,'green',279009090680207,9.561,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔL*','held',5.56,'2026-03-10T09:00:00.000000+00:00','+00:00','2026-03-10','');
INSERT INTO "attempts" VALUES(34,'47c42d5f-7cae-51bd-b9a4-7966b0672a39','20260302-2',33,'hue-and-lean',1,'red',268032080158793,0.241,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','held',13.33,'2026-03-10T09:15:00.000000+00:00','+00:00','2026-03-10','');
INSERT INTO "attempts" VALUES(35,'1bf42758-dd50-5374-97c7-fbef5ea76c9f','20260302-2',34,'hue-and-lean',1,'violet',172730752922408,0.136,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',0.58,0,2.5,'wheel steps','shaky',8.4,'2026-03-10T09:30:00.000000+00:00','+00:00','2026-03-10','');
INSERT INTO "attempts" VALUES(36,'e620e88b-25d5-5f16-a9ac-5df979d083a3','20260302-2',35,'lighter-or-darker',1,'violet',118504962920150,8.248,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',0.55,0,2.5,'ΔL*','lost',4.84,'2026-03-10T09:45:00.000000+00:00','+00:00','2026-03-10','');
INSERT INTO "attempts" VALUES(37,'f9ca7f94-8f64-5a88-98dc-76a3501aa21f','20260302-3',36,'make-the-match',1,'red',256355581748794,3.251,8.0,1.5,0.02,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔE00','held',8.69,'2026-03-11T09:00:00.000000+00:00','+00:00','2026-03-11','');
INSERT INTO "attempts" VALUES(38,'c91f4a11-fc2f-5b5e-8e1f-b03f1fe42fa8','20260302-3',37,'make-the-match',1,'green',183533434190661,4.637,8.0,1.5,0.02,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔE00','held',6.5,'2026-03-11T09:15:00.000000+00:00','+00:00','2026-03-11','');
INSERT INTO "attempts" VALUES(39,'347bf70e-b2d5-5f54-95ae-ffae8f4404cc','20260302-3',38,'hue-and-lean',1,'green',112181596335288,0.192,0.5,0.04,0.25,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'wheel steps','held',5.26,'2026-03-11T09:30:00.000000+00:00','+00:00','2026-03-11','');
INSERT INTO "attempts" VALUES(40,'4b6befe8-a754-5300-8ff7-10ac21b49335','20260302-3',39,'make-the-match',1,'red',72925777984056,3.202,8.0,1.5,0.02,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',0.33,0,2.5,'ΔE00','lost',5.62,'2026-03-11T09:45:00.000000+00:00','+00:00','2026-03-11','');
INSERT INTO "attempts" VALUES(41,'d336622b-65cd-5c41-978e-1d93079c8cf8','20260302-3',40,'lighter-or-darker',1,'violet',276793846391680,3.655,20.0,0.8,0.5,'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',1.0,1,0.0,'ΔL*','held',8.95,'2026-03-12T09:00:00.000000+00:00','+00:00','2026-03-12','');
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
INSERT INTO "skills" VALUES('lighter-or-darker:red',2.31889561342182304315e+01,2.10433139084644826866e+00,'2026-03-07','2026-03-30',3,3,1.0,1.0,4.33683014183031811938e+00,7.24111866991813091232e+00,'2026-03-07T09:30:00.000000+00:00','2026-03-07T09:30:00.000000+00:00','[1,[20.0,0.8],0.5,"2026-03-07",3,1,[0.7785379253828628,0.24569352951823215],0.6371724127158811,0.29936493039383905,-0.07341722144464974,1.190346183095874,"g0XzPMdi8zzQrfM8b0/0PI2Z9TztJPg85QD9PIf9Aj3xAAs9us8YPcS+Lz2XaVQ9FmKGPWzzrz0Huuo9YSEdPrGKUD5L9Yc+vRutPlBj1j4o0QA/fP8VP+UdKT/PkDg/BPpCP0ZsRz9wjUU/cKA9P/J1MD9JSB8/OIsLPwVz7T5vUsQ+h9mdPt8Mdz50Wzw+xxsMPpXByz2FP5E9AeRLPXzPDT0ZUMU8+wyLPKq2STxgTxk810r5O7Th3TsusVw8w8tcPO4PXTzOol08485ePCQfYTxlimU8sbRtPElJfDyPtYo8e5efPHgBwTzGavQ8NTAgPZb/VT33f489Gte+Pcdt+T0hOh8+o85FPpiHbj5EZ4s+gdKdPqwBrT7cobc+R8K8PvL2uz7sZbU+IL2pPhUUmj65wIc+uVBoPqoqQT7yLhw+2sn1PUdnvD0x4Iw9r+hNPdh/Ez0aBtA8zVaRPO4ZSzxSug88zVTRO4axnztpQYI7NGFoO6MuIj2jQiI9I3YiPZ/lIj1HyiM93o4lPUHxKD2RNS89nm46PRfdTT2lX249iXCRPdpNuj0eePc9a58nPl3MYz6NJJk+MozJPmnIAD9W6B4/DrE8P1dgVz+CfWw/0k16PwAAgD93l30/BbtzP2SGYz8RaE4/oQM2P3sOHD/YJQI/XUzTPjQdpz797IA+nlNCPjBQDz77Ts89M32TPfxQTz092RA98w7LPIKRkDxpXVQ8W7MjPIj8BjzK8vI7CSGTPCwzkzzgYZM8+caTPFWWlDzIMJY8g0KZPILxnjw/H6k8C7+6PAE82DzQ7gM9nwMpPe6LYD1/KJg9du7OPWJGCz5jnDc+ijZrPrKXkT5unK0+zzDHPmQM3D4rf+o+DZ7xPu448T5Nt+k+sfXbPsMryT6V07I+zYiaPrbegT4qa1Q+nTQpPkJvAz5xZcc9JvOTPcI6Vz0+7Bk9xWLZPFOImDwFpVY8uFQZPATl4Tvkjq47nDaQO6fsgTvzRfM882PzPDWx8zxtWPQ8a6/1PE5W+Dziaf08LWgDPQvTCz2gZho9ds0yPcBHWj2S/Ys9rou6PbJF/j0sbS4+P1ttPrMknj6SLsw+bo39PpK2Fj8PmSo/X9c2P5u5OT8CjzQ/+1QqP1XCHT/qWhA/DoYCP6Au6D55xck+rEOqPhMGiz4wq1s+s2soPkjR+z3agbg95h2FPU/nPT35eAY9XxG+PE8dhzyjY0M81cYRPLwT5DvuZL4746isO42xXDzCzFw80RJdPHaqXTyB4V48K0lhPMXjZTxGam48Aq99PPoPjDzhMaI8kADGPM33/TyaNik9PadmPYg+nj0la9c9gacPPnTKOT6EXGc+HBiKPnU7nT6X3Kk+D0iuPoZnqz5lraM+Q2aZPt7hjT5jfYE+3DBoPhQ0Sz40miw+iNoNPiCl4T1HMq493R+DPWlqQT1aYAw9YUnJPLMhjzyz+Uo8JacQPE2S0TsSkZw7eS91O0PMTDsOxzk7"]');
INSERT INTO "skills" VALUES('lighter-or-darker:green',1.63004972999141557461e+01,4.74333399934086319404e+00,'2026-03-10','2026-03-26',3,2,1.0,0.9456,7.2979058329026145202e+00,4.67175065392154387211e+00,'2026-03-10T09:00:00.000000+00:00','2026-03-10T09:00:00.000000+00:00','[1,[20.0,0.8],0.5,"2026-03-10",3,1,[0.7464904156796003,0.22909888021986227],0.863198255231066,0.28574077702293693,0.25943049886409103,1.3952333307491895,"Hg2FO5kUhTsKKYU73ViFO2LDhTsLqIY7AYGIOx8ujDsbNZM7ghmgO+PJtjtFGd07HZ0NPJsgPjyWuYM8D8a5PO4oBD18Bj09BM2HPRvTwz0CIg0+pNFJPibDjT5yusE+cWP/PmBlIT/Gz0I/JxVgPyBudT8AAIA/MYB+P9JwcT/B6lo//w8+P8JYHj+d3v0+ln7EPgCMkz4jcVg+rZocPgGo4j1V+6Y9L1p/PU/gTT18HTA9fWcfPVwqFz0FSRA8U1EQPAloEDwinRA8NBMRPEMQEjzOGhQ82CgYPOzlHzyNEi48CPlGPM3ocDxlTpo827POPNFADj3/vEU9D/OIPV9juz10Dvw9vUUmPiT5Vj7eG4g+QKSoPqwYzD5Vq/A+dNoJP732GD/r9SM/kWgpP353KD8IGSE/FxcUP8jkAj+DpN4+Rmy2Pr5GkD4w6lw+FGwkPld37z3uPqw9LBd4PXkLNj1wvQo97iHfPJ+Cvjy5Oaw8kE+jPJBnsTuCcrE7fZCxO5DWsTvscbI7I72zOxtltjtcpbs7vKPFO8Xw1zv8KPg7tk8XPINtQzxc44M8A2a2PEh0/TzlMi490FhqPa9BmT3kNcI9ETzuPa3KDT4uKSU+6K4/PmzqYz7oU44+RqO6PqMB+T5sHCI/sLBHP3IaZT/R0HM/KUhxPyRJXz9WjkI/XsUgPwnc/T7bAsE+SqCOPuE+Tz4bRBY+74HdPeBFqT2TT4g9fvVoPTXIUj1SY0g9JGJAPDxuQDxhj0A8z9xAPESIQTxf9UI8/+FFPCaoSzzFoVY8V7RqPNz/hjxcy6Q8UAPVPG3TDz1e80Y9kTyKPcUHvj17rv89bEEnPsYFVD7NBII+G06aPhuJsT6i2MY+hVLaPiAl7T70fAA/q0MLP3YMFj8Hqh4/+WQiPzI5Hz8svBQ/XzQEP+4A4D48grU+8ViNPjLeVD7SORw+eOXhPRk1oz1m9W89TAY3PVAvEz3NUfs8nknjPEMY2DysDYU74hWFO10shTvsYIU7cdWFO9rNhjvVy4g7FbyMO1w7lDtG+KE7JDK6O3xL4zu9KhM8m6lHPD0sizxETcM8UngHPbItNz1qFG89L9SVPYsxtD1gdNA9MO7oPU1//D1vSQU+VEEKPijoED6VuyI+Y3pQPtiHlD4TY9I+fnYHP8b6GT/Gqhs/vM4OP9qm8j4wMMI+E3WUPrihWz5EVR8+JGDmPbEqqT37woA9BZtOPa8NMD0CFB89BXgXPZpJEDytUhA8iWsQPJulEDwzJhE8BzgSPIFpFDwuvhg86vkgPCQLMDwxlEo8TIl3PPxioDzxqdk8sbUXPerVVD3Rl5M9NpDHPTpHAj5QbCM+SMxEPvALZD5TUH8+26eKPumUkj75R5c+71eZPquumj5mrp4++kOoPjNDtj6eKcI+4TXEPmwbuT7jJaM+1GuHPg/PVT4VICI+7qXuPd2TrD1gAnk9tZk2PdPcCj25r948GLG9POpeqzwBK6M8"]');
INSERT INTO "skills" VALUES('hue-and-lean:red',1.07901997188439633388e+01,7.55232111512758397253e+00,'2026-03-10','2026-03-21',7,5,1.0,7.4703104000000009055e-01,2.00195002928445164869e-01,1.87538064281762117957e-01,'2026-03-10T09:15:00.000000+00:00','2026-03-10T09:15:00.000000+00:00','[1,[0.5,0.04],0.25,"2026-03-10",7,1,[-0.684948500216801,0.2720294101747089],-0.6985467671548367,0.21191788622335353,-1.1126624278678867,-0.27093861166123095,"29wnOunaKjpqkDE6gfk9Okz/Uzo9wno6N42fOjAV3Doy2CM77seBO5PA1jtbfDY8WCGdPIeJBz3Fl2c9v6XBPa6cHD6ce3I+Kj2yPu5s9z5cpSE/jI5GP9xXZT+qb3k/AACAP1KZeD8yH2U/ixRJP9qcKD/Xjwc/qbrRPkClnD4BvGI+9pUfPjRb2z3H75M9z1hFPS5FBD0Msbg8DsqQPDLbVzsb5ls7zepkO4sEdTvM8oc70cGdO1SWwDsynfc7EuUmPJTBaTwLJKg8lXv1PEXcMz0SBYM9o0+8Pb+lBD49KTY+1Z9yPpz9mz7+2MA+MG7kPj9KAT8+ows/+MsPP4k4DT8wZQQ/zljtPirTyz5lGKg+zHqFPiuuTD5c9xc+KDDbPRoLmj1gxlM9jAsPPSVVvzyvs4A8l3s0PNQODjyfq186YGZjOu2Cazrrwnk6GZqIOlMymzpC1Lc6CcniOr4iETsUy0A71bKGO6AQyzuaXyc8j2yTPPdnBD1+UWk9RmLGPc2wIj7E3IA+gszDPg9xDD8b1Do/fV9jP1yPez87Ln0/mi1pP7dfRj/VpB0/c8/sPosLqj7j8Gs+EZ8fPq5I1D1NqYs9W9M2PQxf7zyJ3Z08OORUPJLUFzyEafQ74N+PO12EkjuKXJg7bqKiO1Jfszuok807CV31O3UNGDzJXUI8MnB+PHUdqjxscek887klPbLJcz1FNLc9GxsJPkIyRz6RGoo+V4G1PoP64T4KXwU/9A8VP3MjHT81jhs/pzsQP4Sz+j6ODM0+c+GePscnaz57pic+NjzoPWh3nT2CcFI9oVoLPTnJtzwjhHI8+jAhPLcD2zv3RJ079HV+O7fAJzrIjCo6MaIwOjBSOzok50w6LstoOi/ciTof8qk6MYfYOtIWDTs0BDo7UsB2O/00qDtOX/472C5lPOhv5zwDnWQ9r2fKPWHiHD5Yflg+pKyJPllepj4AE8A+zErPPsyQyz5CGrQ+0fGQPjmRWD6RoRk+pELTPeQcjz3dVEE99TkDPaTPszwFL3k8A8kuPGHg+DsJtbU7GuCLO2zHbjvQz1c7jMZbO86KZDul83M7fYeGO7AumjucBLg7pgXkOySKETyBaz08Vbh4PBx0ozyieNc8sOcRPTOxUz3P0aY97YoHPgMrUT7vfJA+SPKuPr1Tuz5stbY+wguoPiF/lD5zeXs+iCBKPnrWGT7bSN89KnacPYupVj1Z6xE9MGXGPBazhzwfZDs85McCPDmduDvfHIQ767JBO6eOFTu+xf86"]');
INSERT INTO "skills" VALUES('hue-and-lean:green',4.05938969685471562343e+00,7.38233660783527678717e+00,'2026-03-11','2026-03-15',3,2,1.0,0.8864,2.35728382502262440167e-01,1.36866345897332930547e-01,'2026-03-11T09:30:00.000000+00:00','2026-03-11T09:30:00.000000+00:00','[1,[0.5,0.04],0.25,"2026-03-11",3,1,[-0.6015122300933173,0.2355210060794921],-0.627588123788713,0.22187595571963198,-1.0360060507908824,-0.16487977880613103,"7tHeOgcR3zrkuN86AjfhOkV35Dq7V+s6mX75Ogb1Cjsx9CY7o1ldO8zcojueqwI8fTxdPG7rvjymZSM9xxOIPR3p2T2ljyY+jCNyPgoXpz742do+dRgIP6PoID9JHjU/ZGhCP41XRz/6nEM/uAc4P1hHJj+dihA/CS3yPkrcwz7qM5k+ukdoPm8YKz4gyvU9imitPbAldD2JNjI9+VsQPZzhaDvaIWk7WMdpOzEtazu+CW47GbFzO22Bfjs3R4k701abOzENuzuae/E7mncmPICRcTzd0bQ8O9QIPTK/TT0Eopc95fHYPUqfFT6mGUY+gRt7PlcsmD6LS7A+nUrDPtwEzz6LOtI+pMbMPm2Wvz6Waqw+vneVPhgCej6QB0o+GQMePjqw7z0MubA9mjd+Pb6mMz2jaf08r1a5PEBsljxzixQ767IUO7YXFTt+7xU7J6MXOw/xGjs0ISE74E4sO7XHPzskiWA7pR2LOy0wtzuTswE85GdKPGqjsDx9cSc9wr2hPVIiFj75R4E+JUfLPlRFET+6Jz0/W71hP0jxeD8AAIA/hr13P22PYz/57Ec/TxspP6l0Cj8pZNw+gBCrPrbOgT4e+EA+NMQMPlwTyj0Ak489R9xMPWIlGD16Kvs8okGbO7psmzvz2ps7d8acO7ygnjv3NqI7XumoO3z4tDsX5sk7xuDsO3+aEjykfD484reAPKTQszwX2QE9kx9CPd35lD0nq+U9F9csPlXBdz6+ZaY+gebPPgNz8T7MzwI/JhAFP+X2/z71eeo+6vLNPud1rj7MOI8+iMJkPnY9Mj6dyQc+UqTKPfNclD2zsVU9vUgYPQ7c2TxOKaI89xWGPCzR3jpgDN86kqPfOj3n4DrAdOM6s2noOqiy8TqiPQE7OeAPOzN9KDtwXVA7lDuHOwOOtTvQTPg7z18uPDu8hDzpYew8bnp1PSwmAj6nunk+6GjOPjkZET83WS4/q9Q2PxefLD9poBc/otz+PuMr0T5auqk+J+KIPkh9Wz4QeS4+hgIJPhfi0z0YAKE9SmtwPdEqMT22mQI99obHPDhsqDx14mg7FiNpO2zIaTuyKWs7HfFtO5FSczv+Xn07Lb2HOwx6lzs527E7xHLcO7RFDzyvXEA8p/KCPKhssjxenfM80YUqPQwKfj3BKsk9mY0fPnCsbD5R4pw++NG2Pof1vD4wjbE+9h+cPnjOgz6mtVk++9cxPlJVED58r+g9bcO5PaFbkj3e42I9TrQsPVsbAT2Icb48bXiMPHixVjzJRTU8"]');
INSERT INTO "skills" VALUES('make-the-match:violet',3.44204801353222489268e+00,6.40211506929683782374e+00,'2026-03-12','2026-03-15',2,1,1.0,0.232,5.2583862683489925871e+00,4.32360178001450723428e+00,'2026-03-12T09:15:00.000000+00:00','2026-03-12T09:15:00.000000+00:00','[1,[8.0,1.5],0.02,"2026-03-12",2,1,[0.658476746658279,0.2354989704221324],0.7208524851653498,0.1963163883866966,0.3026484777049574,1.1057060861919097,"XzAEOxbhCzskaRw7/Oo5O4HQazv1ep872RzlO2pmLTxnl4g8TFHcPOmHMj3bxo49sxbePZUyJj5tqm0+BrChPkfe0D5h9f8+x8kUP3Y2JD/+OCw/UdorP/piIz98OxQ/eI0AP7aN1T4ZSKo+lLmCPsv9QT7Qsg0+LATTPSOiqT1jcHk7mPiDO/H7kzv5DbA7kJbdOyNAEjyeJUg8Wj6MPFkpxzxxHQ492V5KPezGjj2GOcY9OnIGPh4OMT5VJWE+gaWJPgBaoT6A+bQ+twPCPpa5xj7lgMI+8gG2PvP4oj5OzYs+TyJmPqMaNj4C5wo+IQHNPXULlT35H109+GIxPdw0MDtvVjo7vuBPOxBsdTvmB5k7dqzHO95VBjyCbjc8vCJ7PCksrDwsmfA83ysxPe+WjD3p0+s96clGPt6PoD5mRvE+kVMmPxSRUT/WoXE/AACAPwOTej8S9GM/uOxBPzg3Gz9vKus+u52pPp5jaj7yLhw+Nv7MPbK6iT0iFEo9JEimO9jrrzv+JsU7qybqOzG7EjxA7D88DhOBPNW4rzwN+O48oAwhPUUTVz03aI89R0vBPcyZBD60+Tc+bR19PpyWqD6aK9U+z6D8Pv1yCz8mOA8/JxEJP0pS9T5vMM4+AZCjPjYvdj4RtzA+OmDzPTzPoT31GFQ90nAOPTwk0TymJwQ71MALO4/oGzsNETg72ItlO07BlTsof8k76oIJPAKnOzwGNX08u5+nPJxD2TzsuQ09QHJOPSgEtj04ajA+7g6iPuTTAT/ieTA/bgpMP4HnSz+cozM/gk8OP96tzj5NHow+jXg0Pm9n4D3HvYg9WqMlPY6bzDy7XIY8IKRIPDZseTvi8IM7Pt2TOwCdrzvJGNw7LfEPPDCcQTzMxoM8Hw+zPAJd8DwYPB49AIRLPX1/gD1vG6Q9ehTePVZBIT4SxW4+wdymPoKv0D6+JuU+eqLdPmo1vz7yd5U+lE9XPgNSET7a27o92nloPcr+DT21pqw8CEVWPKNrDTyQPdQ7"]');
INSERT INTO "skills" VALUES('make-the-match:green',1.91972856490124210715e+00,7.38997578801460885955e+00,'2026-03-12','2026-03-14',4,3,0.07,8.14000000000000056843e-01,4.74950128344733357721e+00,4.41292157524494221831e+00,'2026-03-12T09:30:00.000000+00:00','2026-03-11T09:15:00.000000+00:00','[1,[8.0,1.5],0.02,"2026-03-12",4,1,[0.7149907957978222,0.21358334888669284],0.6766480093684756,0.19045601774106818,0.24253457129255335,1.023108227065607,"Wbt+O1BhgTsdOoY7Mb2PO8QkoTv0pr874HXzO7voJDyx3mw8lnOzPLyVDj3XmGo96lbDPYk0ID5wnXw+siW8Ptn7Aj9bjCk/2J9LP2nsYj/V+2o/JJNiPxbuSz/VzCs/6NoHP/pIyj7PPI4+46Q9PuEc8T13GJQ91ew2PVccAj17ywY8xOwIPPILDjz8Exg8blgqPEIGSjxqmH482B6pPDkf6TzP5yM9Zw9oPbP9oz018OU92OEePiGgVj6AV4w+eP2vPoDk0T4Ioew+1C/7PgGM+j46ruo+xYPOPrjuqj4JToU+o1NEPvrcCD6xQLU9HUBlPaVCDD0qvKw8mwR1PCDTqTsHhKw7F/6yO4ayvzsV4tY7KjP/O3sjITychlY8v9yTPPizzjykyg89lUxEPcMRgz2LM7A9pW8APgdZVD63FLg+ZW0UP+opUD9GQ3k/AACAP6NuZD8o0TM/UJn9PvmQoj52JkA+j0jUPfNSXj2jP+A8B45ePHRe4jtd24Y79rozPM6TNjwBbj08Gt9KPC9nYzzgB4c80YSqPOEC4zzXdxw9ZbxaPTsnmD2Zds89yh0JPokvLz4b3Vo+BOyIPlygrT4i19k+0RoBP+kpCz9n6wU/Bm/lPtn3rz64F3Q+EOQaPtYWtj0g3Ug9T8zSPAHRVTxZI9Y7jFlcOxVcBDuvvH47BWOBO5E+hjvlxY87lymhO6xmvzuet/E7wewgPPT0XTx9ZJs8UQnZPCMjFT15cEc9eUGAPR5XnD1IWrM9fk3cPQrwRD6WssA+a6EKP9vzCj/on80+emxxPq8w8T0l8Vs9el3FPOWOOzwqgsU7A9RlO5UXDztLibk6tr97OjjMBjzZ7gg8gBIOPFUnGDxrjSo8IIxKPL7JfzxlSqo89N/qPDNwJD2/rGU9W9OdPaEQ0z0ZvQc+OHMlPi72Oz5ZJkk+mPVgPgJrij4cGp0+X+WNPnReSD7QduY9hf5kPQYz0jw5C0A8/F27Ow6xSjv2ufA6xsOXOjgcRjpvwwY6"]');
INSERT INTO "skills" VALUES('lighter-or-darker:violet',6.81383568403216521858e+00,8.23194630636613666752e+00,'2026-03-13','2026-03-20',10,8,0.22,0.79792,6.53011916108479173459e+00,4.78413548452312564762e+00,'2026-03-13T09:15:00.000000+00:00','2026-03-12T09:45:00.000000+00:00','[1,[20.0,0.8],0.5,"2026-03-13",10,1,[0.811750992628768,0.2720294101747089],0.814921106317862,0.2891789374591552,0.2154100195584902,1.3699639176094116,"4YeqOmAAqzpZGaw6kzCuOvz4sTqCtLg6zJXEOkFi2Toeg/068OgdOzQ9UzuOy5Y7mSviO4y9Ljz4xYg8iZPWPKXEJz2kVoI9f2jIPS1vFz7P9l4+SYKePpoZ2D4omQw/CT4uP6ueTT9oVWc/NaZ4PwAAgD8sLX0/HzNxPwX5XT+r10U/fDArP6AeED8Akuw+CqW9PgfClD5Vx2Q+M9EsPoORAD6yEb09bSmKPWGhSj0Q1hc99eLvPH5l0TyJch08OeEdPLPgHjy2vCA8PPojPAFwKTziaDI8zdBAPJNuVzzsLno8d0KXPDntvTwI+vU898MiPWXfWT32EZI9y6DCPcwTAD5+0yU+f6RSPkf+gj4pOZ8+2sO8PtHR2T5rLfQ+tMIEP/LoCz/P2Q4/nlgNP6ihBz/RsPw+K8vkPnyeyT5qKK0+kiGRPva7bT4Rhj4+ypsVPmCR5j1Qqa49XmCCPUhxQD0AMA09gO3PPDRznDx1GHg8PwhZPBFq4zrsEeQ6FJflOtdv6Dpfau0628/1OsjJATtexQw7P9IdO8iGNzvaDV07UPSIOwjLrDsqVdw7Ck8PPArVRTy0SJc8JIr7PDZvUj0Rt6U9a0jvPSKXHz6I6Uo+GgiAPq06pD7c+9M+fIQFP5/NHz/baTM/iLw8P88IOz/Q/y8/0JEePxbQCT9mgug+8k2/PjsXmj5MsHM+uZU9PmRoET4SZdw9A4+lPcHQdz3lfjo9eIcPPdxs6Dw92M08O/dRPIOSUjyM+lM8vZxWPLw3Wzzv+2I8ALdvPOcDgjxSyZE8FJKpPCJRzDx/Tf08itIfPZLeSj0YbIA9MCKiPQHszT3huwQ+Fe0sPu4lXz6cP4s+XoClPh3Ruj5v/Mk+6k3UPh/12z67/uE+cIrlPvGe5D6+od0+iUrQPmWsvT7Epqc+8D2QPmtQcj5xPEc+pLYgPlPU/j0k4cY9sAqZPe+2aD1fVy89UZcDPaCMxjwSIpk8q2Z4PO80XDyMj6o6cg2rOlExrDrtU646AxCyOgNduDpzs8I6dzrTOpz77DrQCgo7K+8mO2tpUDv/BYU774irO+mD3DsJbgs8MjorPE4ZSzxjcXo8crPJPGy4Rj1gbq093n7xPeW8Cj6m4gw+8IwKPqp/Ez6TvDI+ZJplPnPtjT6ZUKE+DtmnPsoLoj4psZM+OwOBPrZwWj6sjDQ+5FoSPrVU6T2vQLc9UBKOPf0RWj1pfSY9rjD/PCqVxzxJuKM81xSSPGx5HTzj7R086vsePJf1IDwBaiQ87D0qPGnNMzzeFUM83OVaPCQMfzzHO5o8RZXAPKXl9Tw5nR490xVMPTJAgT1NJZ89Rnu8Pbvt1z3/T/09PlghPtIKUj6Hs3w+TLyHPtdGhD4u7HE+YcpYPqWXRz7frUE+Qb5CPsc3Qz6Koz0+qcwwPjKJHj75mAk+TqHoPWttwD3IPJw9kId5PdNKRD0MYxg94SfqPGvrsjwiNYk83LdWPCMxMDxqPB08"]');
INSERT INTO "skills" VALUES('hue-and-lean:violet',1.82491991556946553387e+00,8.24149808243229209381e+00,'2026-03-13','2026-03-15',8,6,1.0,0.87264,2.26646902345157386093e-01,1.96035456578596140042e-01,'2026-03-13T09:30:00.000000+00:00','2026-03-13T09:30:00.000000+00:00','[1,[0.5,0.04],0.25,"2026-03-13",8,2,[-0.6259354662026873,0.2213268880378819],-0.6446502122046679,0.20501835113283956,-1.061953976635343,-0.25684566559799327,"bBYXOuJBFzoMuhc6W9YYOsVVGzp/vSA6ogYsOlPfQjqyBHA6gcmjOnE19zrNdEk7zKGrO+noFDxAyYE8roriPM/aRT28yqs9dQwSPm9ubj5pmrc+tL8DPx8HLz83w1Y/MZJzPwAAgD8/RHo/GotkP9vXQz9YNR4/xxTyPuA0sD4eKXU+fcQjPoIv0z1LSIQ9hZciPeb9xzyH/IA8BxBBPPWpmjt30Zo7kDmbO3MgnDt0BJ47ENShO9k7qTvkH7c7O1TQO3Cu/DtRQiQ8Y0VjPNxspDzhmvM8eFE1PaG9hT2/0sE9pEUJPttVPT7+N30+mkmjPhvIyT6cb+0+MFoEP65WCz9cUwo/1oABP+z+5D7GoL8+azWYPus/Zj4EaiY+JrjmPaIEmj2J8kY9gST6PCKNmjydZj88hrv4O1QiuzvXcEk6bqNJOm8nSjoQSEs66ZpNOvozUjrT9lo6TQprOp25gzoo/ps6VrLEOiggBTtN2UQ7ykGiO7WwEzy0bow8cyoCPY/mXz1g/649cAn8PTi0MT69/oM+LuXLPokqFT+fLkA/ThxVP/bwTD8FXy4/imQGPx8KwD731oE+wP8oPp+E1j3MB4Y9ZQImPVkOzTxotn48o8QhPGHJ2Tt/7Kc7XDjOO8ZszjuG9c47biDQOx6I0ju6Sdc7S1jgOx7z8DtxHgc8oPMfPCl5SDyAN4Q8V6e1PErxAD2bTzw9EV6MPUy20T2Gwxg+d1dTPgWeiD5wTKU+ns++PpvM1j6u7+s+Nt32Pjl37z5Lf9Q+f8usPvI0gj60nTg+bxP6PV/8oz3jZVI9uwkFPb3Cpjz6TlA847ICPG6DpzvZNGM7PwowO6AUFzqSOhc6kp0XOg12GDo0NBo6JKcdOiA6JDq2TDA62aZFOjUAajrlvpI6XXHBOnDUAzsj7Dc7r8iGO0yy3DsFflI8QovZPMzCUT1LAqw9vq3pPRs6BD4NGQM+2LURPuMSWj7WhJc+k0WePgFcgT4NCzY+4sHvPfPXmz3ktEw97FkIPUZetzwhjnc8v00nPG0M4zt9tpw71ahiO39zNztFqpo7lNGaOyQ4mztSGJw7HeadO3Z3oTtCQ6g727u0O/PFyjvEQvA7t8cWPPPZRjzgcIc8Rvm6PDNSAT1WuzM9wgqAPRIlvj0ADw4+ofZGPnpHdz6SQ4U+jY16PptZWj5opEc+zlY/PrhvKD4/cAE+eQq0PeRcbz1rER49LtPSPMosjjyt/EA82ScDPAIksjvrmHI7K9wnO5Yy8zpwCcU6"]');
INSERT INTO "skills" VALUES('make-the-match:red',1.48929527003753126024e+00,9.20911679833323404409e+00,'2026-03-13','2026-03-14',8,5,0.52,7.54856959999999910237e-01,5.15260474502396803586e+00,3.6829617829981922128e+00,'2026-03-13T09:45:00.000000+00:00','2026-03-11T09:00:00.000000+00:00','[1,[8.0,1.5],0.02,"2026-03-13",8,1,[0.6486404322142518,0.2720294101747089],0.712026829121515,0.15558144029194737,0.42136243110939037,1.0409187362113776,"gaEGOOqXFTjWyDU4JXxwOK2FrjiRdg05MvyBOZzSBjrnZpk6z043O/4R3DsA/X88m4wMPV88jz0MGgY+qHRlPqAIsz7P4P4+RM8lP9m0RT9LxFg/4llbP9GqTT/DZTM/BCwSP0Bt3z4F3aA+v1NbPu6mDj6K9rM9hVpmPQTJKT0dR5g6jwinOmSzxTqOUvc62AMhO6XAWDsu4JY7WPHZOy6iIzyIkX48xB7LPGm8Iz2uB4M9eLDMPaPJGT4Bv1s+dQuUPqwLuz732Nw+Ek7zPm8Q+j6Z++8+cGjXPiM/tT7QVo8+Qr5VPt3DFj7HF8o9lZuBPRieIT2c48w8yO2VPDN2MjhFMEQ4LXNnOOwnjzik5LU4Hd7pOP/uFjl7SEQ5HoiEOeP7yTk990U6FPYEOzXs2Tuda7Q8bUuFPS9oJj6HRaw+e4sTP4JBUj/zqns/AACAP6AjYD9XKSs/MBbnPprLiz7svBk+TBicPUEYFT2ZWYk8ah79O5Sddztj5BI7vurKOqgx3jr/0gI7vKchOyQVTTuSdIM7v4aoO0ji1jtRfgg8CHYvPDKzbDxD8q88tLATPZVPhz3fIPs9afFbPg/ArT6p+vE+VykTP7QXHD9g0hA/ZHjsPkJBqz72J14+QXgCPlKAjD1xzQw9W9iFPBXQ9zufFWg7ZBDpOrRwjTrK2AU4vCQTOHiYLTjPwlY4M3OIOPZdrzjRf+E4KvMPOcKJNTnGomI5izuQOSmMzTnqKU46Kf5DO4yEfjxbK4A9sqMtPmWboj62Md0+lOPjPnX9tz71H3A+TbICPsAQdj35P9I8AtUvPHRZoDv/WC47an7gOnlLnzoaTms6wlYyOjwwmDrzpaY6Zj/EOjiG8jqk4Bk7i1lFO0EMfTsa+qA7LRrKO+WL+Tsb5Bc8F3o5PEOPcjyXmMU8EUFWPY5K9T2GNGg+uqqnPibBuT7lXKI+/mhmPt84CD710Yk9g3v2PIR0TDxPWao7rAAfO779sjoQd2w6gPEpOqJZ/Dnilr85"]');
CREATE UNIQUE INDEX "idx__sqlite_migrations_migration_set_name"
    ON "_sqlite_migrations" ("migration_set", "name");
CREATE UNIQUE INDEX "idx_attempts_id"
    ON "attempts" ("id");
CREATE INDEX "idx_attempts_kind_region_seq"
    ON "attempts" ("kind", "region", "seq");
CREATE INDEX "idx_attempts_at_utc"
    ON "attempts" ("at_utc");
COMMIT;
