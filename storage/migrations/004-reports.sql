-- What comparing said, and the findings that go on from file to file.

CREATE TABLE report (
  id TEXT PRIMARY KEY CHECK (length(id) = 16 AND id NOT GLOB '*[^0-9a-z]*'),
  part_id TEXT NOT NULL REFERENCES part,
  dummy_id TEXT NOT NULL,
  file_id TEXT NOT NULL,
  -- hash of all the report depends on beside the two files: tolerances, renderer, settled rulings
  terms TEXT NOT NULL CHECK (length(terms) = 64 AND terms NOT GLOB '*[^0-9a-f]*'),
  verdict TEXT NOT NULL CHECK (verdict IN ('match', 'differs')),
  blob TEXT NOT NULL REFERENCES blob,
  at_ms INTEGER NOT NULL CHECK (at_ms >= 0),
  UNIQUE (dummy_id, file_id, terms),
  UNIQUE (part_id, id),
  FOREIGN KEY (part_id, dummy_id) REFERENCES file (part_id, id),
  FOREIGN KEY (part_id, file_id) REFERENCES file (part_id, id),
  CHECK (dummy_id <> file_id)
) STRICT;
CREATE INDEX report_of_file ON report (file_id);
CREATE TRIGGER reports_start_from_a_dummy BEFORE INSERT ON report
  WHEN (SELECT kind FROM file WHERE id = NEW.dummy_id) <> 'dummy'
  BEGIN SELECT RAISE(ABORT, 'report: what is compared with is not a dummy'); END;

-- One difference of a part, the same one in every file in which it appears.
CREATE TABLE finding (
  id TEXT PRIMARY KEY CHECK (length(id) = 16 AND id NOT GLOB '*[^0-9a-z]*'),
  part_id TEXT NOT NULL REFERENCES part,
  -- hash of what makes it this one: kind, dummy page, place, what is there now
  identity TEXT NOT NULL CHECK (length(identity) = 64 AND identity NOT GLOB '*[^0-9a-f]*'),
  kind TEXT NOT NULL CHECK (kind <> ''),
  dummy_page INTEGER CHECK (dummy_page >= 1),
  at_ms INTEGER NOT NULL CHECK (at_ms >= 0),
  UNIQUE (part_id, identity),
  UNIQUE (part_id, id)
) STRICT;

CREATE TABLE finding_in_report (
  part_id TEXT NOT NULL,
  report_id TEXT NOT NULL,
  finding_id TEXT NOT NULL,
  -- its id within the report
  mark TEXT NOT NULL CHECK (mark <> ''),
  weight TEXT NOT NULL CHECK (weight IN ('stop', 'look', 'note')),
  PRIMARY KEY (report_id, finding_id),
  UNIQUE (report_id, mark),
  FOREIGN KEY (part_id, report_id) REFERENCES report (part_id, id),
  FOREIGN KEY (part_id, finding_id) REFERENCES finding (part_id, id)
) STRICT;
CREATE INDEX report_of_finding ON finding_in_report (finding_id);
CREATE TRIGGER a_match_has_nothing_open BEFORE INSERT ON finding_in_report
  WHEN NEW.weight <> 'note' AND (SELECT verdict FROM report WHERE id = NEW.report_id) = 'match'
  BEGIN SELECT RAISE(ABORT, 'finding_in_report: a report that matches has no such finding'); END;

CREATE TRIGGER report_is_not_altered BEFORE UPDATE ON report BEGIN SELECT RAISE(ABORT, 'report: history is not altered'); END;
CREATE TRIGGER report_is_not_deleted BEFORE DELETE ON report BEGIN SELECT RAISE(ABORT, 'report: history is not deleted'); END;
CREATE TRIGGER finding_is_not_altered BEFORE UPDATE ON finding BEGIN SELECT RAISE(ABORT, 'finding: history is not altered'); END;
CREATE TRIGGER finding_is_not_deleted BEFORE DELETE ON finding BEGIN SELECT RAISE(ABORT, 'finding: history is not deleted'); END;
CREATE TRIGGER finding_in_report_is_not_altered BEFORE UPDATE ON finding_in_report BEGIN SELECT RAISE(ABORT, 'finding_in_report: history is not altered'); END;
CREATE TRIGGER finding_in_report_is_not_deleted BEFORE DELETE ON finding_in_report BEGIN SELECT RAISE(ABORT, 'finding_in_report: history is not deleted'); END;
