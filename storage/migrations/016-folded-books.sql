-- Imposed sheets that were taken apart: the book that they fold to, page by page as people read it, and the plan of it.

CREATE TABLE folded_book (
  seq INTEGER PRIMARY KEY,
  file_id TEXT NOT NULL REFERENCES file,
  -- whose pages were looked for on the sheets
  dummy_id TEXT NOT NULL REFERENCES file,
  blob TEXT NOT NULL REFERENCES reading,
  plan_blob TEXT NOT NULL REFERENCES blob,
  at_ms INTEGER NOT NULL CHECK (at_ms >= 0),
  UNIQUE (file_id, dummy_id)
) STRICT;
CREATE INDEX folded_book_of_file ON folded_book (file_id, seq);
CREATE TRIGGER what_is_folded_is_for_plates BEFORE INSERT ON folded_book
  WHEN (SELECT kind FROM file WHERE id = NEW.file_id) <> 'plates-input'
    OR (SELECT kind FROM file WHERE id = NEW.dummy_id) <> 'dummy'
  BEGIN SELECT RAISE(ABORT, 'folded_book: a plates input is folded, to look like a dummy'); END;

CREATE TRIGGER folded_book_is_not_altered BEFORE UPDATE ON folded_book BEGIN SELECT RAISE(ABORT, 'folded_book: history is not altered'); END;
CREATE TRIGGER folded_book_is_not_deleted BEFORE DELETE ON folded_book BEGIN SELECT RAISE(ABORT, 'folded_book: history is not deleted'); END;
