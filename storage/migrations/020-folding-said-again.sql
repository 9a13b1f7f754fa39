-- How sheets fold, said again by the printer’s side after they were checked; and who confirmed a plan that was found.

CREATE TABLE folding_said_again (
  file_id TEXT NOT NULL REFERENCES file,
  -- from 1; 0 is what was said as they were sent, or nothing
  number INTEGER NOT NULL CHECK (number >= 1),
  part_id TEXT NOT NULL,
  plan_blob TEXT,
  fold TEXT CHECK (trim(fold) <> '' AND length(fold) <= 120),
  bound TEXT CHECK (bound IN ('sewn', 'perfect-bound', 'saddle-stitched')),
  working TEXT CHECK (working IN ('sheetwise', 'sheetwise-tumbled', 'work-and-turn', 'work-and-tumble')),
  person_id TEXT NOT NULL REFERENCES person,
  at_ms INTEGER NOT NULL CHECK (at_ms >= 0),
  PRIMARY KEY (file_id, number),
  FOREIGN KEY (part_id, file_id) REFERENCES file (part_id, id),
  FOREIGN KEY (part_id, plan_blob) REFERENCES given_plan (part_id, blob),
  CHECK ((plan_blob IS NULL) = (fold IS NOT NULL)),
  CHECK ((fold IS NULL) = (bound IS NULL) AND (fold IS NULL) = (working IS NULL))
) STRICT;
CREATE TRIGGER folding_said_again_is_counted BEFORE INSERT ON folding_said_again
  WHEN NEW.number <> (SELECT 1 + coalesce(max(number), 0) FROM folding_said_again WHERE file_id = NEW.file_id)
  BEGIN SELECT RAISE(ABORT, 'folding_said_again: numbers follow each other without a gap'); END;
CREATE TRIGGER folding_is_said_again_of_whole_plates_inputs BEFORE INSERT ON folding_said_again
  WHEN NOT EXISTS (SELECT 1 FROM file WHERE id = NEW.file_id AND kind = 'plates-input' AND laid_over_id IS NULL)
  BEGIN SELECT RAISE(ABORT, 'folding_said_again: only a whole plates input is folded'); END;

-- which of them a report was made by
ALTER TABLE report ADD COLUMN folding INTEGER NOT NULL DEFAULT 0 CHECK (folding >= 0);

CREATE TABLE folding_confirmed (
  report_id TEXT PRIMARY KEY REFERENCES report,
  person_id TEXT NOT NULL REFERENCES person,
  at_ms INTEGER NOT NULL CHECK (at_ms >= 0)
) STRICT;

ALTER TABLE folded_book RENAME TO folded_book_before;
CREATE TABLE folded_book (
  seq INTEGER PRIMARY KEY,
  file_id TEXT NOT NULL REFERENCES file,
  -- whose pages were looked for on the sheets
  dummy_id TEXT NOT NULL REFERENCES file,
  folding INTEGER NOT NULL CHECK (folding >= 0),
  blob TEXT NOT NULL REFERENCES reading,
  plan_blob TEXT NOT NULL REFERENCES blob,
  sides_blob TEXT REFERENCES reading,
  at_ms INTEGER NOT NULL CHECK (at_ms >= 0),
  UNIQUE (file_id, dummy_id, folding)
) STRICT;
INSERT INTO folded_book (seq, file_id, dummy_id, folding, blob, plan_blob, sides_blob, at_ms)
  SELECT seq, file_id, dummy_id, 0, blob, plan_blob, sides_blob, at_ms FROM folded_book_before;
DROP TABLE folded_book_before;
CREATE INDEX folded_book_of_file ON folded_book (file_id, seq);
CREATE TRIGGER what_is_folded_is_for_plates BEFORE INSERT ON folded_book
  WHEN (SELECT kind FROM file WHERE id = NEW.file_id) <> 'plates-input'
    OR (SELECT kind FROM file WHERE id = NEW.dummy_id) <> 'dummy'
  BEGIN SELECT RAISE(ABORT, 'folded_book: a plates input is folded, to look like a dummy'); END;

CREATE TRIGGER folded_book_is_not_altered BEFORE UPDATE ON folded_book BEGIN SELECT RAISE(ABORT, 'folded_book: history is not altered'); END;
CREATE TRIGGER folded_book_is_not_deleted BEFORE DELETE ON folded_book BEGIN SELECT RAISE(ABORT, 'folded_book: history is not deleted'); END;
CREATE TRIGGER folding_said_again_is_not_altered BEFORE UPDATE ON folding_said_again BEGIN SELECT RAISE(ABORT, 'folding_said_again: history is not altered'); END;
CREATE TRIGGER folding_said_again_is_not_deleted BEFORE DELETE ON folding_said_again BEGIN SELECT RAISE(ABORT, 'folding_said_again: history is not deleted'); END;
CREATE TRIGGER folding_confirmed_is_not_altered BEFORE UPDATE ON folding_confirmed BEGIN SELECT RAISE(ABORT, 'folding_confirmed: history is not altered'); END;
CREATE TRIGGER folding_confirmed_is_not_deleted BEFORE DELETE ON folding_confirmed BEGIN SELECT RAISE(ABORT, 'folding_confirmed: history is not deleted'); END;
