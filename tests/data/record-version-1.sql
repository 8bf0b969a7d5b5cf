-- A record of format version 1, as its first writer left it. Never edited: later versions must read it.
PRAGMA application_id = 1333227117;
PRAGMA user_version = 1;
PRAGMA foreign_keys=OFF;
BEGIN TRANSACTION;
CREATE TABLE content(
  hash TEXT NOT NULL PRIMARY KEY CHECK (length(hash) = 32),
  text TEXT NOT NULL
) STRICT;
INSERT INTO content VALUES('9d7b1b6182d98f4eb76b2ff69d2c6545','<course name=''Coastal Science''/>');
INSERT INTO content VALUES('65200dc19634bfca7385e32823dece2d','<question id=''w01''/>');
CREATE TABLE event(
  seq INTEGER PRIMARY KEY CHECK (seq > 0),
  at INTEGER NOT NULL CHECK (at BETWEEN 0 AND 253402300799),
  day INTEGER NOT NULL CHECK (day BETWEEN -1 AND 2932897),
  kind INTEGER NOT NULL CHECK (kind > 0),
  sitting INTEGER REFERENCES event(seq) CHECK (sitting < seq),
  script INTEGER REFERENCES event(seq) CHECK (script < seq),
  bank TEXT,
  part TEXT,
  item TEXT,
  detail TEXT,
  text TEXT,
  content TEXT REFERENCES content(hash),
  pass INTEGER NOT NULL CHECK (pass BETWEEN 0 AND 3),
  number REAL CHECK (abs(number) < 1e18)
) STRICT;
INSERT INTO event VALUES(1,1767229200,20454,21,NULL,NULL,'coastal-science',NULL,'exam-date',NULL,'2026-06-15',NULL,0,NULL);
INSERT INTO event VALUES(2,1767232800,20454,21,NULL,NULL,'coastal-science',NULL,'taught:tides',NULL,'2025-11-03',NULL,0,NULL);
INSERT INTO event VALUES(3,1767236400,20454,1,NULL,NULL,'coastal-science',NULL,NULL,NULL,replace('topic	waves	water	50\ntopic	tides	water	30\ntopic	dunes	land	20\nobjective	AO1	know	40\nobjective	AO2	apply	60\nword	explain\nword	to what extent\n','\n',char(10)),'9d7b1b6182d98f4eb76b2ff69d2c6545',0,NULL);
INSERT INTO event VALUES(4,1767240000,20454,2,NULL,NULL,'coastal-science',NULL,NULL,'{"minutes":30}','banks/coastal-science.xml',NULL,0,NULL);
INSERT INTO event VALUES(5,1767243600,20454,4,4,NULL,'coastal-science',NULL,'w01',NULL,NULL,'65200dc19634bfca7385e32823dece2d',0,17.0);
INSERT INTO event VALUES(6,1767247200,20454,5,4,5,'coastal-science','a',NULL,'read',NULL,NULL,0,NULL);
INSERT INTO event VALUES(7,1767250800,20454,7,4,5,'coastal-science','a',NULL,'plan',replace('waves slow down\nso they grow','\n',char(10)),NULL,0,NULL);
INSERT INTO event VALUES(8,1767254400,20454,8,4,5,'coastal-science','a',NULL,NULL,NULL,NULL,0,2.0);
INSERT INTO event VALUES(9,1767258000,20454,7,4,5,'coastal-science','a',NULL,'answer','The wave height grows to 1.5 m.',NULL,0,NULL);
INSERT INTO event VALUES(10,1767261600,20454,9,4,5,'coastal-science','a',NULL,'response','120',NULL,0,95.0);
INSERT INTO event VALUES(11,1767265200,20454,10,4,5,'coastal-science','a','a.1','yes',NULL,NULL,1,NULL);
INSERT INTO event VALUES(12,1767268800,20454,10,4,5,'coastal-science','a','a.2','no',NULL,NULL,1,NULL);
INSERT INTO event VALUES(13,1767272400,20454,14,4,5,'coastal-science','a','a.1','supported','grows',NULL,0,NULL);
INSERT INTO event VALUES(14,1767276000,20454,15,4,5,'coastal-science','a','a.1','kept',NULL,NULL,0,NULL);
INSERT INTO event VALUES(15,1767279600,20454,16,4,5,'coastal-science','a',NULL,'final',NULL,NULL,0,1.0);
INSERT INTO event VALUES(16,1767283200,20454,17,4,5,'coastal-science','a','a.2','not-known',NULL,NULL,0,NULL);
INSERT INTO event VALUES(17,1767286800,20454,18,4,5,'coastal-science',NULL,NULL,NULL,NULL,NULL,0,NULL);
INSERT INTO event VALUES(18,1767290400,20454,4,4,NULL,'coastal-science',NULL,'w02',NULL,NULL,'65200dc19634bfca7385e32823dece2d',0,18.0);
INSERT INTO event VALUES(19,1767294000,20454,5,4,18,'coastal-science','a',NULL,'read',NULL,NULL,0,NULL);
INSERT INTO event VALUES(20,1767297600,20454,7,4,18,'coastal-science','a',NULL,'plan',replace('waves slow down\nso they grow','\n',char(10)),NULL,0,NULL);
INSERT INTO event VALUES(21,1767301200,20454,8,4,18,'coastal-science','a',NULL,NULL,NULL,NULL,0,2.0);
INSERT INTO event VALUES(22,1767304800,20454,7,4,18,'coastal-science','a',NULL,'answer','The wave height grows to 1.5 m.',NULL,0,NULL);
INSERT INTO event VALUES(23,1767308400,20454,9,4,18,'coastal-science','a',NULL,'response','120',NULL,0,95.0);
INSERT INTO event VALUES(24,1767312000,20455,10,4,18,'coastal-science','a','a.1','yes',NULL,NULL,1,NULL);
INSERT INTO event VALUES(25,1767315600,20455,10,4,18,'coastal-science','a','a.2','yes',NULL,NULL,1,NULL);
INSERT INTO event VALUES(26,1767319200,20455,14,4,18,'coastal-science','a','a.1','supported','grows',NULL,0,NULL);
INSERT INTO event VALUES(27,1767322800,20455,15,4,18,'coastal-science','a','a.1','kept',NULL,NULL,0,NULL);
INSERT INTO event VALUES(28,1767326400,20455,16,4,18,'coastal-science','a',NULL,'final',NULL,NULL,0,2.0);
INSERT INTO event VALUES(29,1767330000,20455,18,4,18,'coastal-science',NULL,NULL,NULL,NULL,NULL,0,NULL);
INSERT INTO event VALUES(30,1767333600,20455,22,NULL,18,'coastal-science','a','a.2',NULL,NULL,NULL,0,0.0);
INSERT INTO event VALUES(31,1767337200,20455,20,NULL,NULL,'coastal-science',NULL,'waves',NULL,NULL,NULL,0,3.0);
INSERT INTO event VALUES(32,1767340800,20455,23,NULL,NULL,'coastal-science',NULL,'waves',NULL,'Waves slow, shorten and grow.',NULL,0,1.0);
INSERT INTO event VALUES(33,1767344400,20455,24,NULL,NULL,'coastal-science',NULL,'tides','yyn',NULL,NULL,0,2.0);
INSERT INTO event VALUES(34,1767348000,20455,3,4,NULL,'coastal-science',NULL,NULL,'finished',NULL,NULL,0,NULL);
CREATE TABLE mark(
  seq INTEGER NOT NULL REFERENCES event(seq),
  slot INTEGER NOT NULL CHECK (slot >= 0),
  part TEXT NOT NULL,
  item TEXT NOT NULL,
  topic TEXT NOT NULL,
  objective TEXT NOT NULL,
  word TEXT,
  idea TEXT,
  difficulty REAL NOT NULL CHECK (abs(difficulty) < 1e3),
  got REAL NOT NULL CHECK (got BETWEEN 0 AND maximum),
  first REAL CHECK (first BETWEEN 0 AND maximum),
  maximum REAL NOT NULL CHECK (maximum > 0 AND maximum < 1e6),
  confident INTEGER NOT NULL CHECK (confident IN (0, 1)),
  no_response INTEGER NOT NULL CHECK (no_response IN (0, 1)),
  PRIMARY KEY (seq, slot)
) STRICT, WITHOUT ROWID;
INSERT INTO mark VALUES(17,0,'a','a.1','waves','AO1','explain',NULL,0.25,1.0,1.0,1.0,1,0);
INSERT INTO mark VALUES(17,1,'a','a.2','tides','AO2','explain','shoaling',-0.5,0.0,0.0,1.0,0,0);
INSERT INTO mark VALUES(29,0,'a','a.1','waves','AO1','explain',NULL,0.25,1.0,1.0,1.0,1,0);
INSERT INTO mark VALUES(29,1,'a','a.2','tides','AO2','explain','shoaling',-0.5,1.0,1.0,1.0,0,0);
CREATE TABLE sitting(seq INTEGER PRIMARY KEY, opened INTEGER NOT NULL, closed INTEGER,
  bank TEXT NOT NULL, path TEXT, ending TEXT) STRICT;
INSERT INTO sitting VALUES(4,1767240000,34,'coastal-science','banks/coastal-science.xml','finished');
CREATE TABLE bank(id TEXT NOT NULL PRIMARY KEY, last INTEGER NOT NULL, path TEXT) STRICT, WITHOUT ROWID;
INSERT INTO bank VALUES('coastal-science',1767240000,'banks/coastal-science.xml');
CREATE TABLE course(bank TEXT NOT NULL PRIMARY KEY, seq INTEGER NOT NULL, lines TEXT NOT NULL,
  content TEXT) STRICT, WITHOUT ROWID;
INSERT INTO course VALUES('coastal-science',3,replace('topic	waves	water	50\ntopic	tides	water	30\ntopic	dunes	land	20\nobjective	AO1	know	40\nobjective	AO2	apply	60\nword	explain\nword	to what extent\n','\n',char(10)),'9d7b1b6182d98f4eb76b2ff69d2c6545');
CREATE TABLE setting(bank TEXT NOT NULL, name TEXT NOT NULL, seq INTEGER NOT NULL, value TEXT,
  PRIMARY KEY (bank, name)) STRICT, WITHOUT ROWID;
INSERT INTO setting VALUES('coastal-science','exam-date',1,'2026-06-15');
INSERT INTO setting VALUES('coastal-science','taught:tides',2,'2025-11-03');
CREATE TABLE script(seq INTEGER PRIMARY KEY, state INTEGER NOT NULL, marked INTEGER,
  at INTEGER, predicted REAL, predicted_final REAL, predicted_maximum REAL, first REAL, final REAL,
  maximum REAL, moderated REAL, seconds REAL, allowed REAL,
  bank TEXT NOT NULL, question TEXT NOT NULL, content TEXT) STRICT;
INSERT INTO script VALUES(5,1,17,1767286800,2.0,1.0,2.0,1.0,1.0,2.0,NULL,95.0,120.0,'coastal-science','w01','65200dc19634bfca7385e32823dece2d');
INSERT INTO script VALUES(18,1,29,1767330000,2.0,2.0,2.0,2.0,2.0,2.0,1.0,95.0,120.0,'coastal-science','w02','65200dc19634bfca7385e32823dece2d');
CREATE TABLE script_part(script INTEGER NOT NULL, part TEXT NOT NULL, predicted REAL, seconds REAL,
  allowed REAL, PRIMARY KEY (script, part)) STRICT, WITHOUT ROWID;
INSERT INTO script_part VALUES(5,'a',2.0,95.0,120.0);
INSERT INTO script_part VALUES(18,'a',2.0,95.0,120.0);
CREATE TABLE cause(script INTEGER NOT NULL, part TEXT NOT NULL, item TEXT NOT NULL, cause TEXT,
  PRIMARY KEY (script, part, item)) STRICT, WITHOUT ROWID;
INSERT INTO cause VALUES(5,'a','a.2','not-known');
CREATE TABLE moderated(bank TEXT NOT NULL, script INTEGER NOT NULL, part TEXT NOT NULL, item TEXT NOT NULL,
  seq INTEGER NOT NULL, own REAL NOT NULL, teacher REAL NOT NULL, maximum REAL NOT NULL,
  PRIMARY KEY (bank, script, part, item)) STRICT, WITHOUT ROWID;
INSERT INTO moderated VALUES('coastal-science',18,'a','a.2',30,1.0,0.0,1.0);
CREATE TABLE question(bank TEXT NOT NULL, question TEXT NOT NULL, last INTEGER, times INTEGER NOT NULL,
  variants INTEGER NOT NULL, attempted REAL, PRIMARY KEY (bank, question)) STRICT, WITHOUT ROWID;
INSERT INTO question VALUES('coastal-science','w01',1767286800,1,1,20454.708333333332121);
INSERT INTO question VALUES('coastal-science','w02',1767330000,1,1,20455.20833333333212);
CREATE TABLE seed(bank TEXT NOT NULL, question TEXT NOT NULL, seed TEXT NOT NULL, times INTEGER NOT NULL,
  PRIMARY KEY (bank, question, seed)) STRICT, WITHOUT ROWID;
INSERT INTO seed VALUES('coastal-science','w01','17',1);
INSERT INTO seed VALUES('coastal-science','w02','18',1);
CREATE TABLE tally(bank TEXT NOT NULL, heading TEXT NOT NULL, id TEXT NOT NULL, got REAL NOT NULL,
  maximum REAL NOT NULL, attempts INTEGER NOT NULL, last INTEGER NOT NULL,
  PRIMARY KEY (bank, heading, id)) STRICT, WITHOUT ROWID;
INSERT INTO tally VALUES('coastal-science','cause','not-known',0.0,1.0,1,1767286800);
INSERT INTO tally VALUES('coastal-science','objective','AO1',2.0,2.0,2,1767330000);
INSERT INTO tally VALUES('coastal-science','objective','AO2',0.0,2.0,2,1767333600);
INSERT INTO tally VALUES('coastal-science','topic','tides',0.0,2.0,2,1767333600);
INSERT INTO tally VALUES('coastal-science','topic','waves',2.0,2.0,2,1767330000);
INSERT INTO tally VALUES('coastal-science','word','explain',2.0,4.0,2,1767333600);
CREATE TABLE missed(bank TEXT NOT NULL, question TEXT NOT NULL, part TEXT NOT NULL, item TEXT NOT NULL,
  state INTEGER NOT NULL, since INTEGER NOT NULL, due INTEGER, step INTEGER, look INTEGER, success INTEGER,
  later INTEGER NOT NULL, gap INTEGER NOT NULL, losses INTEGER NOT NULL, lost REAL NOT NULL,
  topic TEXT NOT NULL, word TEXT, idea TEXT, cause TEXT, content TEXT,
  PRIMARY KEY (bank, question, part, item)) STRICT, WITHOUT ROWID;
INSERT INTO missed VALUES('coastal-science','w01','a','a.2',0,20454,20454,NULL,NULL,NULL,0,0,1,1.0,'tides','explain','shoaling','not-known','65200dc19634bfca7385e32823dece2d');
INSERT INTO missed VALUES('coastal-science','w02','a','a.2',0,20455,20455,NULL,20462,NULL,0,0,1,1.0,'tides','explain','shoaling',NULL,'65200dc19634bfca7385e32823dece2d');
CREATE TABLE effect(bank TEXT NOT NULL, kind TEXT NOT NULL, id TEXT NOT NULL, mean REAL NOT NULL,
  variance REAL NOT NULL, evidence REAL NOT NULL, last REAL, grown REAL, strength REAL, freshness REAL,
  PRIMARY KEY (bank, kind, id)) STRICT, WITHOUT ROWID;
INSERT INTO effect VALUES('coastal-science','course','',0.015971325068522390644,0.33029007199458704224,4.0,NULL,NULL,NULL,NULL);
INSERT INTO effect VALUES('coastal-science','objective','AO1',0.2725592422444328422,0.039681001064586066129,2.0,NULL,NULL,NULL,NULL);
INSERT INTO effect VALUES('coastal-science','objective','AO2',-0.032884011424933232148,0.039522910852900640377,2.0,NULL,NULL,NULL,NULL);
INSERT INTO effect VALUES('coastal-science','topic','tides',-0.031026835642649672197,0.18879060163796609894,2.0,20455.20833333333212,20455.20833333333212,0.28095416118996119347,0.74207358007644663722);
INSERT INTO effect VALUES('coastal-science','topic','waves',0.24428131411145703744,0.1926147160527022506,2.0,20455.20833333333212,20455.20833333333212,0.28095416118996119347,0.74207358007644663722);
INSERT INTO effect VALUES('coastal-science','unit','water',-0.036007492290921282174,0.1393311527134458716,4.0,NULL,NULL,NULL,NULL);
INSERT INTO effect VALUES('coastal-science','word','explain',-0.024641508036833726508,0.095174871432315510944,4.0,NULL,NULL,NULL,NULL);
CREATE TABLE learner(bank TEXT NOT NULL PRIMARY KEY, seen REAL, over_marks REAL NOT NULL,
  over_of REAL NOT NULL, under_marks REAL NOT NULL, under_of REAL NOT NULL, attempts REAL NOT NULL)
  STRICT, WITHOUT ROWID;
INSERT INTO learner VALUES('coastal-science',20455.20833333333212,5.0,21.0,0.59999999999999997779,30.0,2.0);
CREATE INDEX event_latest ON event(bank, kind, item) WHERE kind IN (20, 23, 24);
CREATE INDEX sitting_open ON sitting(bank) WHERE closed IS NULL;
COMMIT;
