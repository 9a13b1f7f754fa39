-- What was sent, and what is known of its pages.

CREATE TABLE blob (
  sha256 TEXT PRIMARY KEY CHECK (length(sha256) = 64 AND sha256 NOT GLOB '*[^0-9a-f]*'),
  bytes INTEGER NOT NULL CHECK (bytes >= 0),
  at_ms INTEGER NOT NULL CHECK (at_ms >= 0)
) STRICT;

CREATE TABLE file (
  id TEXT PRIMARY KEY CHECK (length(id) = 16 AND id NOT GLOB '*[^0-9a-z]*'),
  part_id TEXT NOT NULL REFERENCES part,
  -- in order of arrival within the part, from 1
  position INTEGER NOT NULL CHECK (position >= 1),
  kind TEXT NOT NULL CHECK (kind IN ('dummy', 'revision', 'plates-input')),
  -- revisions of a part are counted from 1; other kinds bear no number
  revision_number INTEGER CHECK (revision_number >= 1),
  name TEXT NOT NULL CHECK (trim(name) <> '' AND length(name) <= 500),
  remark TEXT NOT NULL CHECK (length(remark) <= 10000),
  -- the earlier file of the same part whose pages this one replaces in part; null for a whole file
  laid_over_id TEXT,
  sender_id TEXT NOT NULL REFERENCES person,
  blob TEXT NOT NULL REFERENCES blob,
  at_ms INTEGER NOT NULL CHECK (at_ms >= 0),
  UNIQUE (part_id, position),
  UNIQUE (part_id, revision_number),
  UNIQUE (part_id, id),
  FOREIGN KEY (part_id, laid_over_id) REFERENCES file (part_id, id),
  CHECK ((kind = 'revision') = (revision_number IS NOT NULL)),
  CHECK (laid_over_id IS NULL OR (kind <> 'dummy' AND laid_over_id <> id))
) STRICT;
CREATE INDEX file_of_blob ON file (blob);
CREATE TRIGGER files_of_a_part_are_counted BEFORE INSERT ON file
  WHEN NEW.position <> (SELECT 1 + coalesce(max(position), 0) FROM file WHERE part_id = NEW.part_id)
    OR NEW.revision_number <> (SELECT 1 + coalesce(max(revision_number), 0) FROM file WHERE part_id = NEW.part_id)
  BEGIN SELECT RAISE(ABORT, 'file: numbers follow each other without a gap'); END;

-- "pages 12-13 supplied again": ranges of the file below, both ends included, that do not overlap.
CREATE TABLE replaced_pages (
  file_id TEXT NOT NULL REFERENCES file,
  first_page INTEGER NOT NULL CHECK (first_page >= 1),
  last_page INTEGER NOT NULL,
  PRIMARY KEY (file_id, first_page),
  CHECK (last_page >= first_page)
) STRICT;
CREATE TRIGGER pages_are_replaced_in_a_file_below BEFORE INSERT ON replaced_pages
  WHEN (SELECT laid_over_id FROM file WHERE id = NEW.file_id) IS NULL
  BEGIN SELECT RAISE(ABORT, 'replaced_pages: the file is not laid over another'); END;
CREATE TRIGGER pages_are_replaced_once BEFORE INSERT ON replaced_pages
  WHEN EXISTS (SELECT 1 FROM replaced_pages WHERE file_id = NEW.file_id
    AND first_page <= NEW.last_page AND last_page >= NEW.first_page)
  BEGIN SELECT RAISE(ABORT, 'replaced_pages: a page is replaced twice'); END;

-- A blob that was read as a whole: as many rows of `page` as it has pages.
CREATE TABLE reading (
  blob TEXT PRIMARY KEY REFERENCES blob,
  pages INTEGER NOT NULL CHECK (pages >= 1),
  at_ms INTEGER NOT NULL CHECK (at_ms >= 0)
) STRICT;

CREATE TABLE page (
  blob TEXT NOT NULL REFERENCES reading,
  page_number INTEGER NOT NULL CHECK (page_number >= 1),
  content_hash TEXT CHECK (length(content_hash) = 64 AND content_hash NOT GLOB '*[^0-9a-f]*'),
  width_mm REAL CHECK (width_mm > 0),
  height_mm REAL CHECK (height_mm > 0),
  unreadable TEXT CHECK (unreadable <> ''),
  PRIMARY KEY (blob, page_number),
  CHECK ((content_hash IS NULL) = (unreadable IS NOT NULL)),
  CHECK ((content_hash IS NULL) = (width_mm IS NULL) AND (width_mm IS NULL) = (height_mm IS NULL))
) STRICT, WITHOUT ROWID;
CREATE INDEX page_of_content ON page (content_hash);
CREATE TRIGGER pages_lie_within_the_file BEFORE INSERT ON page
  WHEN NEW.page_number > (SELECT pages FROM reading WHERE blob = NEW.blob)
  BEGIN SELECT RAISE(ABORT, 'page: beyond the last page'); END;

-- Results that cost time, by the hash of all that they depend on.
CREATE TABLE page_fact (
  content_hash TEXT NOT NULL CHECK (length(content_hash) = 64 AND content_hash NOT GLOB '*[^0-9a-f]*'),
  kind TEXT NOT NULL CHECK (kind <> ''),
  terms TEXT NOT NULL CHECK (length(terms) = 64 AND terms NOT GLOB '*[^0-9a-f]*'),
  fact BLOB NOT NULL,
  PRIMARY KEY (content_hash, kind, terms)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER blob_is_not_altered BEFORE UPDATE ON blob BEGIN SELECT RAISE(ABORT, 'blob: history is not altered'); END;
CREATE TRIGGER blob_is_not_deleted BEFORE DELETE ON blob BEGIN SELECT RAISE(ABORT, 'blob: history is not deleted'); END;
CREATE TRIGGER file_is_not_altered BEFORE UPDATE ON file BEGIN SELECT RAISE(ABORT, 'file: history is not altered'); END;
CREATE TRIGGER file_is_not_deleted BEFORE DELETE ON file BEGIN SELECT RAISE(ABORT, 'file: history is not deleted'); END;
CREATE TRIGGER replaced_pages_is_not_altered BEFORE UPDATE ON replaced_pages BEGIN SELECT RAISE(ABORT, 'replaced_pages: history is not altered'); END;
CREATE TRIGGER replaced_pages_is_not_deleted BEFORE DELETE ON replaced_pages BEGIN SELECT RAISE(ABORT, 'replaced_pages: history is not deleted'); END;
CREATE TRIGGER reading_is_not_altered BEFORE UPDATE ON reading BEGIN SELECT RAISE(ABORT, 'reading: history is not altered'); END;
CREATE TRIGGER reading_is_not_deleted BEFORE DELETE ON reading BEGIN SELECT RAISE(ABORT, 'reading: history is not deleted'); END;
CREATE TRIGGER page_is_not_altered BEFORE UPDATE ON page BEGIN SELECT RAISE(ABORT, 'page: history is not altered'); END;
CREATE TRIGGER page_is_not_deleted BEFORE DELETE ON page BEGIN SELECT RAISE(ABORT, 'page: history is not deleted'); END;
CREATE TRIGGER page_fact_is_not_altered BEFORE UPDATE ON page_fact BEGIN SELECT RAISE(ABORT, 'page_fact: history is not altered'); END;
CREATE TRIGGER page_fact_is_not_deleted BEFORE DELETE ON page_fact BEGIN SELECT RAISE(ABORT, 'page_fact: history is not deleted'); END;
