-- What is said about a finding, in order; each remark is an entry of the log.

CREATE TABLE finding_remark (
  -- of its entry in the log, which is its place in the conversation, too
  log_index INTEGER PRIMARY KEY REFERENCES log_entry,
  finding_id TEXT NOT NULL REFERENCES finding,
  person_id TEXT NOT NULL REFERENCES person,
  text TEXT NOT NULL CHECK (trim(text) <> '' AND length(text) <= 4000),
  at_ms INTEGER NOT NULL CHECK (at_ms >= 0)
) STRICT;
CREATE INDEX finding_remark_of_finding ON finding_remark (finding_id);

CREATE TRIGGER finding_remark_is_not_altered BEFORE UPDATE ON finding_remark BEGIN SELECT RAISE(ABORT, 'finding_remark: history is not altered'); END;
CREATE TRIGGER finding_remark_is_not_deleted BEFORE DELETE ON finding_remark BEGIN SELECT RAISE(ABORT, 'finding_remark: history is not deleted'); END;
