-- One more way to work a sheet: two formes, the sheet tumbled between them.

ALTER TABLE said_folding RENAME TO said_folding_before;
CREATE TABLE said_folding (
  file_id TEXT PRIMARY KEY REFERENCES file,
  part_id TEXT NOT NULL,
  plan_blob TEXT,
  -- pages of a section, or its folds
  fold TEXT CHECK (trim(fold) <> '' AND length(fold) <= 120),
  bound TEXT CHECK (bound IN ('sewn', 'perfect-bound', 'saddle-stitched')),
  working TEXT CHECK (working IN ('sheetwise', 'sheetwise-tumbled', 'work-and-turn', 'work-and-tumble')),
  FOREIGN KEY (part_id, file_id) REFERENCES file (part_id, id),
  FOREIGN KEY (part_id, plan_blob) REFERENCES given_plan (part_id, blob),
  CHECK ((plan_blob IS NULL) = (fold IS NOT NULL)),
  CHECK ((fold IS NULL) = (bound IS NULL) AND (fold IS NULL) = (working IS NULL))
) STRICT;
INSERT INTO said_folding SELECT file_id, part_id, plan_blob, fold, bound, working FROM said_folding_before;
DROP TABLE said_folding_before;
CREATE TRIGGER folding_is_said_of_whole_plates_inputs BEFORE INSERT ON said_folding
  WHEN NOT EXISTS (SELECT 1 FROM file WHERE id = NEW.file_id AND kind = 'plates-input' AND laid_over_id IS NULL)
  BEGIN SELECT RAISE(ABORT, 'said_folding: only a whole plates input is folded'); END;
CREATE TRIGGER said_folding_is_not_altered BEFORE UPDATE ON said_folding BEGIN SELECT RAISE(ABORT, 'said_folding: history is not altered'); END;
CREATE TRIGGER said_folding_is_not_deleted BEFORE DELETE ON said_folding BEGIN SELECT RAISE(ABORT, 'said_folding: history is not deleted'); END;
