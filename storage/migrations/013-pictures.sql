-- Pictures that were drawn: they can be drawn again, so nothing rests on them; the blobs stay all the same.

-- Of a report: what shows a finding, cut out of both files.
CREATE TABLE exhibit (
  report_id TEXT NOT NULL REFERENCES report,
  -- the finding's id within the report
  mark TEXT NOT NULL CHECK (mark <> ''),
  side TEXT NOT NULL CHECK (side IN ('dummy', 'revision', 'difference')),
  -- what is shown, on the page as it will be trimmed
  x_mm REAL NOT NULL,
  y_mm REAL NOT NULL,
  width_mm REAL NOT NULL CHECK (width_mm > 0),
  height_mm REAL NOT NULL CHECK (height_mm > 0),
  width_px INTEGER NOT NULL CHECK (width_px >= 1),
  height_px INTEGER NOT NULL CHECK (height_px >= 1),
  blob TEXT NOT NULL REFERENCES blob,
  PRIMARY KEY (report_id, mark, side)
) STRICT, WITHOUT ROWID;

-- Of a page, by its content: one picture serves every file in which it stands.
CREATE TABLE page_picture (
  content_hash TEXT NOT NULL CHECK (length(content_hash) = 64 AND content_hash NOT GLOB '*[^0-9a-f]*'),
  width_px INTEGER NOT NULL CHECK (width_px >= 1),
  height_px INTEGER NOT NULL CHECK (height_px >= 1),
  -- what drew it, with versions
  renderer TEXT NOT NULL CHECK (renderer <> ''),
  blob TEXT NOT NULL REFERENCES blob,
  PRIMARY KEY (content_hash, width_px, renderer)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER exhibit_is_not_altered BEFORE UPDATE ON exhibit BEGIN SELECT RAISE(ABORT, 'exhibit: history is not altered'); END;
CREATE TRIGGER exhibit_is_not_deleted BEFORE DELETE ON exhibit BEGIN SELECT RAISE(ABORT, 'exhibit: history is not deleted'); END;
CREATE TRIGGER page_picture_is_not_altered BEFORE UPDATE ON page_picture BEGIN SELECT RAISE(ABORT, 'page_picture: history is not altered'); END;
CREATE TRIGGER page_picture_is_not_deleted BEFORE DELETE ON page_picture BEGIN SELECT RAISE(ABORT, 'page_picture: history is not deleted'); END;
