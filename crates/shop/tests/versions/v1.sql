-- A filled database of version 1: what the program `sqlite3` dumped of it, and the two pragmas.
PRAGMA application_id = 1937009785;
PRAGMA user_version = 1;
PRAGMA foreign_keys=OFF;
BEGIN TRANSACTION;
CREATE TABLE run (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  begun_ms INTEGER NOT NULL
) STRICT;
INSERT INTO run VALUES(1,1790788500000);
CREATE TABLE document (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  sort TEXT NOT NULL CHECK (sort IN ('workshop', 'order')),
  demo INTEGER NOT NULL CHECK (demo IN (0, 1)),
  put_away INTEGER NOT NULL CHECK (put_away IN (0, 1)),
  head INTEGER NOT NULL REFERENCES revision (id) DEFERRABLE INITIALLY DEFERRED,
  name TEXT NOT NULL,
  due_day TEXT,
  folded TEXT NOT NULL, -- what a search looks at, in small letters
  made_ms INTEGER NOT NULL,
  changed_ms INTEGER NOT NULL
) STRICT;
INSERT INTO document VALUES(1,'workshop',0,0,1,'workshop',NULL,replace('workshop\n\n','\n',char(10)),1790788500000,1790788500000);
INSERT INTO document VALUES(2,'order',0,0,2,'lantern festival','2026-10-30',replace('lantern festival\n2026-10-30\nharbour badge','\n',char(10)),1790788500000,1790788560000);
INSERT INTO document VALUES(3,'order',1,0,3,'demo',NULL,replace('demo\n\n','\n',char(10)),1790788500000,1790788500000);
CREATE TABLE revision (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  document INTEGER NOT NULL REFERENCES document (id),
  number INTEGER NOT NULL,
  parent INTEGER REFERENCES revision (id),
  at_ms INTEGER NOT NULL,
  what TEXT NOT NULL,
  together TEXT,
  name TEXT NOT NULL,
  due_day TEXT,
  words TEXT NOT NULL,
  text TEXT NOT NULL,
  UNIQUE (document, number)
) STRICT;
INSERT INTO revision VALUES(1,1,1,NULL,1790788500000,'begun',NULL,'workshop',NULL,'',replace('# ours\n','\n',char(10)));
INSERT INTO revision VALUES(2,2,1,NULL,1790788500000,'taken',NULL,'lantern festival','2026-10-30','harbour badge',replace('name = "lantern festival"\n','\n',char(10)));
INSERT INTO revision VALUES(3,3,1,NULL,1790788500000,'begun',NULL,'demo',NULL,'',replace('# demo\n','\n',char(10)));
INSERT INTO revision VALUES(4,2,2,2,1790788560000,'renamed',NULL,'lantern night',NULL,'',replace('name = "lantern night"\n','\n',char(10)));
CREATE TABLE redo (
  revision INTEGER PRIMARY KEY REFERENCES revision (id),
  next INTEGER NOT NULL REFERENCES revision (id)
) STRICT;
INSERT INTO redo VALUES(2,4);
CREATE TABLE outline (
  id INTEGER PRIMARY KEY,
  document INTEGER NOT NULL REFERENCES document (id),
  name TEXT NOT NULL,
  bytes BLOB NOT NULL,
  UNIQUE (document, name)
) STRICT;
INSERT INTO outline VALUES(1,2,'star.svg',X'3c7376672f3e');
INSERT INTO outline VALUES(2,2,'star-2.svg',X'3c737667202f3e');
CREATE TABLE stone (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE
) STRICT;
INSERT INTO stone VALUES(1,'amber');
CREATE TABLE entry (
  id INTEGER PRIMARY KEY,
  nonce TEXT NOT NULL UNIQUE,
  at_ms INTEGER NOT NULL,
  what TEXT NOT NULL CHECK (what IN
    ('received', 'reserved', 'released', 'used', 'lost', 'counted', 'taken back')),
  stone INTEGER NOT NULL REFERENCES stone (id),
  lot TEXT NOT NULL,
  stones INTEGER NOT NULL CHECK (stones >= 0),
  on_hand_change INTEGER NOT NULL,
  reserved_change INTEGER NOT NULL,
  on_hand_after INTEGER NOT NULL,
  reserved_after INTEGER NOT NULL,
  unit_price TEXT,
  supplier TEXT,
  document INTEGER,
  piece TEXT,
  who TEXT NOT NULL,
  why TEXT NOT NULL
) STRICT;
INSERT INTO entry VALUES(1,'e1',1790788560000,'received',1,'L7',1440,1440,0,1440,0,'0.0400','Quayside Stones',NULL,NULL,'the maker','');
INSERT INTO entry VALUES(2,'e2',1790788560000,'reserved',1,'L7',100,0,100,1440,100,NULL,NULL,2,'badge','the maker','');
INSERT INTO entry VALUES(3,'e3',1790788600000,'used',1,'L7',12,-12,-12,1428,88,NULL,NULL,2,NULL,'the maker','');
INSERT INTO entry VALUES(4,'e4',1790788600000,'used',1,'L7',1,-1,0,1427,88,NULL,NULL,NULL,NULL,'the maker','');
CREATE TABLE stock (
  stone INTEGER NOT NULL REFERENCES stone (id),
  lot TEXT NOT NULL,
  on_hand INTEGER NOT NULL,
  reserved INTEGER NOT NULL,
  unit_price TEXT,
  PRIMARY KEY (stone, lot)
) STRICT, WITHOUT ROWID;
INSERT INTO stock VALUES(1,'L7',1427,88,'0.0400');
CREATE TABLE held (
  document INTEGER NOT NULL,
  stone INTEGER NOT NULL REFERENCES stone (id),
  lot TEXT NOT NULL,
  stones INTEGER NOT NULL,
  PRIMARY KEY (document, stone, lot)
) STRICT, WITHOUT ROWID;
INSERT INTO held VALUES(2,1,'L7',88);
CREATE TABLE setting (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  nonce TEXT NOT NULL UNIQUE,
  document INTEGER NOT NULL REFERENCES document (id),
  revision INTEGER NOT NULL REFERENCES revision (id),
  piece_index INTEGER NOT NULL,
  piece TEXT NOT NULL,
  first_copy INTEGER NOT NULL CHECK (first_copy >= 1),
  last_copy INTEGER NOT NULL CHECK (last_copy >= first_copy),
  lay_hash TEXT NOT NULL,
  engine TEXT NOT NULL,
  begun_ms INTEGER NOT NULL,
  closed_ms INTEGER,
  frozen BLOB NOT NULL -- zlib
) STRICT;
INSERT INTO setting VALUES(1,'s1',2,2,0,'badge',1,18,'c0ffee','stonelay 0.1.0',1790788560000,1790788600000,X'789ccb49ac040002820147');
CREATE TABLE setting_lot (
  setting INTEGER NOT NULL REFERENCES setting (id),
  kind TEXT NOT NULL,
  lot TEXT NOT NULL,
  PRIMARY KEY (setting, kind)
) STRICT, WITHOUT ROWID;
INSERT INTO setting_lot VALUES(1,'amber','L7');
CREATE TABLE press (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  nonce TEXT NOT NULL UNIQUE,
  setting INTEGER NOT NULL REFERENCES setting (id),
  run INTEGER NOT NULL REFERENCES run (id),
  at_ms INTEGER NOT NULL,
  monotonic_ms INTEGER NOT NULL,
  since_ms INTEGER CHECK (since_ms >= 0),
  restarted INTEGER NOT NULL CHECK (restarted IN (0, 1)),
  device TEXT NOT NULL,
  copy INTEGER NOT NULL,
  stretch INTEGER,
  row INTEGER,
  what TEXT NOT NULL CHECK (what IN ('begun', 'glue opened', 'row done', 'back', 'lost', 'paused',
    'resumed', 'copy done', 'glue used', 'note')),
  kind TEXT,
  place_no INTEGER,
  stones INTEGER,
  grams REAL,
  text TEXT
) STRICT;
INSERT INTO press VALUES(1,'p1',1,1,1790788560000,60000,NULL,0,'tablet',1,0,0,'begun',NULL,NULL,NULL,NULL,NULL);
INSERT INTO press VALUES(2,'p2',1,1,1790788600000,100000,40000,0,'tablet',1,0,0,'row done',NULL,NULL,12,NULL,NULL);
INSERT INTO press VALUES(3,'p3',1,1,1790788600000,100000,0,0,'tablet',1,0,0,'glue used',NULL,NULL,NULL,1.25,NULL);
CREATE TABLE repair (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  nonce TEXT NOT NULL UNIQUE,
  at_ms INTEGER NOT NULL,
  setting INTEGER NOT NULL REFERENCES setting (id),
  copy INTEGER NOT NULL,
  place_no INTEGER NOT NULL,
  kind TEXT NOT NULL,
  lot TEXT NOT NULL,
  adhesive TEXT NOT NULL,
  price TEXT NOT NULL,
  why TEXT NOT NULL
) STRICT;
INSERT INTO repair VALUES(1,'r1',1790788600000,1,7,41,'amber','L7','gel','2.00','knocked off');
CREATE TABLE approval (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  nonce TEXT NOT NULL UNIQUE,
  at_ms INTEGER NOT NULL,
  withdraws INTEGER UNIQUE REFERENCES approval (id),
  document INTEGER NOT NULL REFERENCES document (id),
  revision INTEGER NOT NULL REFERENCES revision (id),
  hash TEXT NOT NULL,
  price TEXT NOT NULL,
  valid_until TEXT,
  who TEXT NOT NULL,
  how TEXT NOT NULL,
  note TEXT NOT NULL
) STRICT;
INSERT INTO approval VALUES(1,'a1',1790788600000,NULL,2,2,'c0ffee','84.00','2026-10-30','the harbour master','at the counter','');
INSERT INTO approval VALUES(2,'withdrawn: a1',1790788600000,1,2,2,'c0ffee','84.00','2026-10-30','the harbour master','by letter','');
CREATE TABLE device (
  id INTEGER PRIMARY KEY,
  token_hash TEXT NOT NULL UNIQUE,
  name TEXT NOT NULL,
  made_ms INTEGER NOT NULL,
  seen_ms INTEGER NOT NULL,
  revoked_ms INTEGER
) STRICT;
INSERT INTO device VALUES(1,'ab12','tablet',1790788600000,1790788600000,NULL);
CREATE TABLE preference (
  key TEXT PRIMARY KEY,
  value TEXT NOT NULL
) STRICT, WITHOUT ROWID;
INSERT INTO preference VALUES('theme','dark');
DELETE FROM sqlite_sequence;
INSERT INTO sqlite_sequence VALUES('run',1);
INSERT INTO sqlite_sequence VALUES('document',3);
INSERT INTO sqlite_sequence VALUES('revision',4);
INSERT INTO sqlite_sequence VALUES('setting',1);
INSERT INTO sqlite_sequence VALUES('press',3);
INSERT INTO sqlite_sequence VALUES('repair',1);
INSERT INTO sqlite_sequence VALUES('approval',2);
CREATE UNIQUE INDEX document_one_workshop ON document (sort) WHERE sort = 'workshop';
CREATE INDEX document_by_changed ON document (sort, put_away, changed_ms, id);
CREATE INDEX document_by_due ON document (sort, put_away, coalesce(due_day, '~'), id);
CREATE INDEX document_by_head ON document (head);
CREATE INDEX revision_by_parent ON revision (parent);
CREATE INDEX redo_by_next ON redo (next);
CREATE INDEX entry_by_stone ON entry (stone, id);
CREATE INDEX entry_by_document ON entry (document, id) WHERE document IS NOT NULL;
CREATE TRIGGER entry_moves_stock AFTER INSERT ON entry BEGIN
  INSERT INTO stock (stone, lot, on_hand, reserved, unit_price)
    VALUES (NEW.stone, NEW.lot, NEW.on_hand_change, NEW.reserved_change,
      CASE WHEN NEW.what = 'received' THEN NEW.unit_price END)
    ON CONFLICT (stone, lot) DO UPDATE SET
      on_hand = on_hand + excluded.on_hand,
      reserved = reserved + excluded.reserved,
      unit_price = coalesce(excluded.unit_price, unit_price);
END;
CREATE TRIGGER entry_moves_held AFTER INSERT ON entry
  WHEN NEW.document IS NOT NULL AND NEW.reserved_change <> 0 BEGIN
  INSERT INTO held (document, stone, lot, stones)
    VALUES (NEW.document, NEW.stone, NEW.lot, NEW.reserved_change)
    ON CONFLICT (document, stone, lot) DO UPDATE SET stones = stones + excluded.stones;
END;
CREATE INDEX setting_by_document ON setting (document, id);
CREATE INDEX setting_by_revision ON setting (revision);
CREATE INDEX setting_open ON setting (id) WHERE closed_ms IS NULL;
CREATE INDEX press_by_setting ON press (setting, id);
CREATE INDEX repair_by_setting ON repair (setting, id);
CREATE INDEX approval_by_document ON approval (document, id);
CREATE INDEX approval_by_revision ON approval (revision);
CREATE TRIGGER entry_stays BEFORE DELETE ON entry
  BEGIN SELECT raise(ABORT, 'a line of the ledger stays'); END;
CREATE TRIGGER entry_as_written BEFORE UPDATE ON entry
  BEGIN SELECT raise(ABORT, 'a line of the ledger stays as it was written'); END;
CREATE TRIGGER stone_stays BEFORE DELETE ON stone
  BEGIN SELECT raise(ABORT, 'a stone stays'); END;
CREATE TRIGGER document_stays BEFORE DELETE ON document WHEN NOT OLD.demo
  BEGIN SELECT raise(ABORT, 'only the demo order may go'); END;
CREATE TRIGGER document_demo_or_not BEFORE UPDATE OF demo, sort ON document
  BEGIN SELECT raise(ABORT, 'a document stays what it is'); END;
CREATE TRIGGER revision_as_written BEFORE UPDATE ON revision
  BEGIN SELECT raise(ABORT, 'a revision stays as it was written'); END;
CREATE TRIGGER revision_stays BEFORE DELETE ON revision
  WHEN NOT (SELECT demo FROM document WHERE id = OLD.document)
  BEGIN SELECT raise(ABORT, 'a revision stays'); END;
CREATE TRIGGER outline_as_written BEFORE UPDATE ON outline
  BEGIN SELECT raise(ABORT, 'an outline stays as it was written'); END;
CREATE TRIGGER outline_stays BEFORE DELETE ON outline
  WHEN NOT (SELECT demo FROM document WHERE id = OLD.document)
  BEGIN SELECT raise(ABORT, 'an outline stays'); END;
CREATE TRIGGER setting_frozen BEFORE UPDATE OF id, nonce, document, revision, piece_index, piece,
  first_copy, last_copy, lay_hash, engine, begun_ms, frozen ON setting
  BEGIN SELECT raise(ABORT, 'a setting stays as it was begun'); END;
CREATE TRIGGER setting_closed BEFORE UPDATE OF closed_ms ON setting WHEN OLD.closed_ms IS NOT NULL
  BEGIN SELECT raise(ABORT, 'a setting is closed once'); END;
CREATE TRIGGER setting_stays BEFORE DELETE ON setting
  WHEN NOT (SELECT demo FROM document WHERE id = OLD.document)
  BEGIN SELECT raise(ABORT, 'a setting stays'); END;
CREATE TRIGGER setting_lot_as_written BEFORE UPDATE ON setting_lot
  BEGIN SELECT raise(ABORT, 'the lots of a setting stay as they were written'); END;
CREATE TRIGGER setting_lot_stays BEFORE DELETE ON setting_lot
  WHEN NOT (SELECT d.demo FROM document d JOIN setting s ON s.document = d.id
    WHERE s.id = OLD.setting)
  BEGIN SELECT raise(ABORT, 'the lots of a setting stay'); END;
CREATE TRIGGER press_as_written BEFORE UPDATE ON press
  BEGIN SELECT raise(ABORT, 'a press stays as it was written'); END;
CREATE TRIGGER press_stays BEFORE DELETE ON press
  WHEN NOT (SELECT d.demo FROM document d JOIN setting s ON s.document = d.id
    WHERE s.id = OLD.setting)
  BEGIN SELECT raise(ABORT, 'a press stays'); END;
CREATE TRIGGER repair_as_written BEFORE UPDATE ON repair
  BEGIN SELECT raise(ABORT, 'a repair stays as it was written'); END;
CREATE TRIGGER repair_stays BEFORE DELETE ON repair
  WHEN NOT (SELECT d.demo FROM document d JOIN setting s ON s.document = d.id
    WHERE s.id = OLD.setting)
  BEGIN SELECT raise(ABORT, 'a repair stays'); END;
CREATE TRIGGER approval_as_written BEFORE UPDATE ON approval
  BEGIN SELECT raise(ABORT, 'a yes stays as it was written'); END;
CREATE TRIGGER approval_stays BEFORE DELETE ON approval
  WHEN NOT (SELECT demo FROM document WHERE id = OLD.document)
  BEGIN SELECT raise(ABORT, 'a yes stays'); END;
COMMIT;
