-- Who takes part. Times are milliseconds since 1970 UTC; ids are 16 characters without meaning.

CREATE TABLE party (
  id TEXT PRIMARY KEY CHECK (length(id) = 16 AND id NOT GLOB '*[^0-9a-z]*'),
  name TEXT NOT NULL UNIQUE CHECK (trim(name) <> '' AND length(name) <= 200),
  at_ms INTEGER NOT NULL CHECK (at_ms >= 0)
) STRICT;

CREATE TABLE person (
  id TEXT PRIMARY KEY CHECK (length(id) = 16 AND id NOT GLOB '*[^0-9a-z]*'),
  party_id TEXT NOT NULL REFERENCES party,
  name TEXT NOT NULL CHECK (trim(name) <> '' AND length(name) <= 200),
  at_ms INTEGER NOT NULL CHECK (at_ms >= 0),
  UNIQUE (party_id, id)
) STRICT;

-- Every right given and taken; what holds now is the last word on each.
CREATE TABLE right_change (
  seq INTEGER PRIMARY KEY,
  person_id TEXT NOT NULL REFERENCES person,
  may TEXT NOT NULL CHECK (may IN ('look', 'send-files', 'sign')),
  change TEXT NOT NULL CHECK (change IN ('given', 'taken')),
  -- null: the archive's own first start
  by_person_id TEXT REFERENCES person,
  at_ms INTEGER NOT NULL CHECK (at_ms >= 0)
) STRICT;
CREATE INDEX right_change_of_person ON right_change (person_id, may, seq);

CREATE VIEW person_right AS
  SELECT person_id, may FROM right_change AS this
  WHERE change = 'given'
    AND seq = (SELECT max(seq) FROM right_change WHERE person_id = this.person_id AND may = this.may);

CREATE TRIGGER right_is_given_once BEFORE INSERT ON right_change
  WHEN NEW.change = 'given' AND EXISTS (SELECT 1 FROM person_right WHERE person_id = NEW.person_id AND may = NEW.may)
  BEGIN SELECT RAISE(ABORT, 'right_change: this right is held already'); END;
CREATE TRIGGER right_is_taken_where_held BEFORE INSERT ON right_change
  WHEN NEW.change = 'taken' AND NOT EXISTS (SELECT 1 FROM person_right WHERE person_id = NEW.person_id AND may = NEW.may)
  BEGIN SELECT RAISE(ABORT, 'right_change: this right is not held'); END;
CREATE TRIGGER whoever_acts_also_looks BEFORE INSERT ON right_change
  WHEN NEW.change = 'given' AND NEW.may <> 'look'
    AND NOT EXISTS (SELECT 1 FROM person_right WHERE person_id = NEW.person_id AND may = 'look')
  BEGIN SELECT RAISE(ABORT, 'right_change: who may not look may not act'); END;
CREATE TRIGGER looking_is_taken_last BEFORE INSERT ON right_change
  WHEN NEW.change = 'taken' AND NEW.may = 'look'
    AND EXISTS (SELECT 1 FROM person_right WHERE person_id = NEW.person_id AND may <> 'look')
  BEGIN SELECT RAISE(ABORT, 'right_change: who may act must look'); END;

CREATE TRIGGER party_is_not_altered BEFORE UPDATE ON party BEGIN SELECT RAISE(ABORT, 'party: history is not altered'); END;
CREATE TRIGGER party_is_not_deleted BEFORE DELETE ON party BEGIN SELECT RAISE(ABORT, 'party: history is not deleted'); END;
CREATE TRIGGER person_is_not_altered BEFORE UPDATE ON person BEGIN SELECT RAISE(ABORT, 'person: history is not altered'); END;
CREATE TRIGGER person_is_not_deleted BEFORE DELETE ON person BEGIN SELECT RAISE(ABORT, 'person: history is not deleted'); END;
CREATE TRIGGER right_change_is_not_altered BEFORE UPDATE ON right_change BEGIN SELECT RAISE(ABORT, 'right_change: history is not altered'); END;
CREATE TRIGGER right_change_is_not_deleted BEFORE DELETE ON right_change BEGIN SELECT RAISE(ABORT, 'right_change: history is not deleted'); END;
