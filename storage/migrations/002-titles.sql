-- Titles, their two parties, whoever else was given sight, and their parts.

CREATE TABLE title (
  id TEXT PRIMARY KEY CHECK (length(id) = 16 AND id NOT GLOB '*[^0-9a-z]*'),
  publisher_id TEXT NOT NULL REFERENCES party,
  printer_id TEXT NOT NULL REFERENCES party,
  by_person_id TEXT NOT NULL REFERENCES person,
  at_ms INTEGER NOT NULL CHECK (at_ms >= 0),
  CHECK (publisher_id <> printer_id)
) STRICT;
CREATE INDEX title_of_publisher ON title (publisher_id);
CREATE INDEX title_of_printer ON title (printer_id);

-- A corrected name follows the former; the last one holds.
CREATE TABLE title_name (
  seq INTEGER PRIMARY KEY,
  title_id TEXT NOT NULL REFERENCES title,
  name TEXT NOT NULL CHECK (trim(name) <> '' AND length(name) <= 300),
  by_person_id TEXT NOT NULL REFERENCES person,
  at_ms INTEGER NOT NULL CHECK (at_ms >= 0)
) STRICT;
CREATE INDEX title_name_of_title ON title_name (title_id, seq);

CREATE TABLE part (
  id TEXT PRIMARY KEY CHECK (length(id) = 16 AND id NOT GLOB '*[^0-9a-z]*'),
  title_id TEXT NOT NULL REFERENCES title,
  kind TEXT NOT NULL CHECK (kind IN ('book-block', 'case', 'jacket', 'endpapers')),
  -- tells two of a kind apart; empty where there is one
  label TEXT NOT NULL CHECK (label = trim(label) AND length(label) <= 100),
  at_ms INTEGER NOT NULL CHECK (at_ms >= 0),
  UNIQUE (title_id, kind, label),
  UNIQUE (title_id, id)
) STRICT;

CREATE TABLE sight_change (
  seq INTEGER PRIMARY KEY,
  title_id TEXT NOT NULL REFERENCES title,
  party_id TEXT NOT NULL REFERENCES party,
  change TEXT NOT NULL CHECK (change IN ('given', 'taken')),
  by_person_id TEXT NOT NULL REFERENCES person,
  at_ms INTEGER NOT NULL CHECK (at_ms >= 0)
) STRICT;
CREATE INDEX sight_change_of_title ON sight_change (title_id, party_id, seq);
CREATE INDEX sight_change_of_party ON sight_change (party_id);

CREATE VIEW sight AS
  SELECT title_id, party_id FROM sight_change AS this
  WHERE change = 'given'
    AND seq = (SELECT max(seq) FROM sight_change WHERE title_id = this.title_id AND party_id = this.party_id);

-- What each party is to a title: the one place where sight is decided.
CREATE VIEW standing AS
  SELECT id AS title_id, publisher_id AS party_id, 'publisher' AS role FROM title
  UNION ALL SELECT id, printer_id, 'printer' FROM title
  UNION ALL SELECT title_id, party_id, 'sight' FROM sight;

CREATE TRIGGER sight_is_given_once BEFORE INSERT ON sight_change
  WHEN NEW.change = 'given' AND EXISTS (SELECT 1 FROM standing WHERE title_id = NEW.title_id AND party_id = NEW.party_id)
  BEGIN SELECT RAISE(ABORT, 'sight_change: this party sees the title already'); END;
CREATE TRIGGER sight_is_taken_where_given BEFORE INSERT ON sight_change
  WHEN NEW.change = 'taken' AND NOT EXISTS (SELECT 1 FROM sight WHERE title_id = NEW.title_id AND party_id = NEW.party_id)
  BEGIN SELECT RAISE(ABORT, 'sight_change: this party was not given sight'); END;

CREATE TRIGGER title_is_not_altered BEFORE UPDATE ON title BEGIN SELECT RAISE(ABORT, 'title: history is not altered'); END;
CREATE TRIGGER title_is_not_deleted BEFORE DELETE ON title BEGIN SELECT RAISE(ABORT, 'title: history is not deleted'); END;
CREATE TRIGGER title_name_is_not_altered BEFORE UPDATE ON title_name BEGIN SELECT RAISE(ABORT, 'title_name: history is not altered'); END;
CREATE TRIGGER title_name_is_not_deleted BEFORE DELETE ON title_name BEGIN SELECT RAISE(ABORT, 'title_name: history is not deleted'); END;
CREATE TRIGGER part_is_not_altered BEFORE UPDATE ON part BEGIN SELECT RAISE(ABORT, 'part: history is not altered'); END;
CREATE TRIGGER part_is_not_deleted BEFORE DELETE ON part BEGIN SELECT RAISE(ABORT, 'part: history is not deleted'); END;
CREATE TRIGGER sight_change_is_not_altered BEFORE UPDATE ON sight_change BEGIN SELECT RAISE(ABORT, 'sight_change: history is not altered'); END;
CREATE TRIGGER sight_change_is_not_deleted BEFORE DELETE ON sight_change BEGIN SELECT RAISE(ABORT, 'sight_change: history is not deleted'); END;
