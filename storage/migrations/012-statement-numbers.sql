-- The number that each statement bears inside: one that was taken is never taken again, whatever else it says.

CREATE TABLE statement_number (
  number TEXT PRIMARY KEY CHECK (length(number) = 32 AND number NOT GLOB '*[^0-9a-f]*'),
  statement TEXT NOT NULL UNIQUE REFERENCES statement
) STRICT, WITHOUT ROWID;

CREATE TRIGGER statement_number_is_not_altered BEFORE UPDATE ON statement_number BEGIN SELECT RAISE(ABORT, 'statement_number: history is not altered'); END;
CREATE TRIGGER statement_number_is_not_deleted BEFORE DELETE ON statement_number BEGIN SELECT RAISE(ABORT, 'statement_number: history is not deleted'); END;
