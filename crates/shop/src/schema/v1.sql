PRAGMA application_id = 1937009785;

-- Each opening of the database. The monotonic clock of a press holds only within one.
CREATE TABLE run (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  begun_ms INTEGER NOT NULL
) STRICT;

-- Documents ----------------------------------------------------------------------------------

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
CREATE UNIQUE INDEX document_one_workshop ON document (sort) WHERE sort = 'workshop';
CREATE INDEX document_by_changed ON document (sort, put_away, changed_ms, id);
CREATE INDEX document_by_due ON document (sort, put_away, coalesce(due_day, '~'), id);
CREATE INDEX document_by_head ON document (head);

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
CREATE INDEX revision_by_parent ON revision (parent);

-- From a revision to the one that was the head when undo came back to it.
CREATE TABLE redo (
  revision INTEGER PRIMARY KEY REFERENCES revision (id),
  next INTEGER NOT NULL REFERENCES revision (id)
) STRICT;
CREATE INDEX redo_by_next ON redo (next);

CREATE TABLE outline (
  id INTEGER PRIMARY KEY,
  document INTEGER NOT NULL REFERENCES document (id),
  name TEXT NOT NULL,
  bytes BLOB NOT NULL,
  UNIQUE (document, name)
) STRICT;

-- Ledger -------------------------------------------------------------------------------------

CREATE TABLE stone (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL UNIQUE
) STRICT;

-- `document` refers to nothing: the ledger outlives the demo order.
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
CREATE INDEX entry_by_stone ON entry (stone, id);
CREATE INDEX entry_by_document ON entry (document, id) WHERE document IS NOT NULL;

CREATE TABLE stock (
  stone INTEGER NOT NULL REFERENCES stone (id),
  lot TEXT NOT NULL,
  on_hand INTEGER NOT NULL,
  reserved INTEGER NOT NULL,
  unit_price TEXT,
  PRIMARY KEY (stone, lot)
) STRICT, WITHOUT ROWID;

CREATE TABLE held (
  document INTEGER NOT NULL,
  stone INTEGER NOT NULL REFERENCES stone (id),
  lot TEXT NOT NULL,
  stones INTEGER NOT NULL,
  PRIMARY KEY (document, stone, lot)
) STRICT, WITHOUT ROWID;

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

-- Bench --------------------------------------------------------------------------------------

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
CREATE INDEX setting_by_document ON setting (document, id);
CREATE INDEX setting_by_revision ON setting (revision);
CREATE INDEX setting_open ON setting (id) WHERE closed_ms IS NULL;

CREATE TABLE setting_lot (
  setting INTEGER NOT NULL REFERENCES setting (id),
  kind TEXT NOT NULL,
  lot TEXT NOT NULL,
  PRIMARY KEY (setting, kind)
) STRICT, WITHOUT ROWID;

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
CREATE INDEX press_by_setting ON press (setting, id);

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
CREATE INDEX repair_by_setting ON repair (setting, id);

-- Customers, devices, choices ----------------------------------------------------------------

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
CREATE INDEX approval_by_document ON approval (document, id);
CREATE INDEX approval_by_revision ON approval (revision);

CREATE TABLE device (
  id INTEGER PRIMARY KEY,
  token_hash TEXT NOT NULL UNIQUE,
  name TEXT NOT NULL,
  made_ms INTEGER NOT NULL,
  seen_ms INTEGER NOT NULL,
  revoked_ms INTEGER
) STRICT;

CREATE TABLE preference (
  key TEXT PRIMARY KEY,
  value TEXT NOT NULL
) STRICT, WITHOUT ROWID;

-- What is only added stays as it was written. Only the demo order may go. ---------------------

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
