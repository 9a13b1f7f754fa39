-- How the sheets of a plates input fold, where its sender says so: by a plan given to the part before, or by rules.

CREATE TABLE given_plan (
  part_id TEXT NOT NULL REFERENCES part,
  blob TEXT NOT NULL REFERENCES blob,
  -- of the book that it is a plan of
  pages INTEGER NOT NULL CHECK (pages >= 1),
  person_id TEXT NOT NULL REFERENCES person,
  at_ms INTEGER NOT NULL CHECK (at_ms >= 0),
  PRIMARY KEY (part_id, blob)
) STRICT;

CREATE TABLE said_folding (
  file_id TEXT PRIMARY KEY REFERENCES file,
  part_id TEXT NOT NULL,
  plan_blob TEXT,
  -- pages of a section, or its folds
  fold TEXT CHECK (trim(fold) <> '' AND length(fold) <= 120),
  bound TEXT CHECK (bound IN ('sewn', 'perfect-bound', 'saddle-stitched')),
  working TEXT CHECK (working IN ('sheetwise', 'work-and-turn', 'work-and-tumble')),
  FOREIGN KEY (part_id, file_id) REFERENCES file (part_id, id),
  FOREIGN KEY (part_id, plan_blob) REFERENCES given_plan (part_id, blob),
  CHECK ((plan_blob IS NULL) = (fold IS NOT NULL)),
  CHECK ((fold IS NULL) = (bound IS NULL) AND (fold IS NULL) = (working IS NULL))
) STRICT;
CREATE TRIGGER folding_is_said_of_whole_plates_inputs BEFORE INSERT ON said_folding
  WHEN NOT EXISTS (SELECT 1 FROM file WHERE id = NEW.file_id AND kind = 'plates-input' AND laid_over_id IS NULL)
  BEGIN SELECT RAISE(ABORT, 'said_folding: only a whole plates input is folded'); END;

CREATE TRIGGER given_plan_is_not_altered BEFORE UPDATE ON given_plan BEGIN SELECT RAISE(ABORT, 'given_plan: history is not altered'); END;
CREATE TRIGGER given_plan_is_not_deleted BEFORE DELETE ON given_plan BEGIN SELECT RAISE(ABORT, 'given_plan: history is not deleted'); END;
CREATE TRIGGER said_folding_is_not_altered BEFORE UPDATE ON said_folding BEGIN SELECT RAISE(ABORT, 'said_folding: history is not altered'); END;
CREATE TRIGGER said_folding_is_not_deleted BEFORE DELETE ON said_folding BEGIN SELECT RAISE(ABORT, 'said_folding: history is not deleted'); END;
