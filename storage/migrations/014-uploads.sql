-- Files on their way in, a piece at a time: they go on after a break and after a kill.

CREATE TABLE upload (
  id TEXT PRIMARY KEY CHECK (length(id) = 16 AND id NOT GLOB '*[^0-9a-z]*'),
  person_id TEXT NOT NULL REFERENCES person,
  part_id TEXT NOT NULL REFERENCES part,
  -- what the sender says of the file
  told_json TEXT NOT NULL CHECK (json_valid(told_json)),
  bytes INTEGER NOT NULL CHECK (bytes >= 0),
  -- so many are on disk for certain
  arrived INTEGER NOT NULL CHECK (arrived BETWEEN 0 AND bytes),
  -- whole: every byte is there, and its hash is known; received: it is a file of the part
  state TEXT NOT NULL CHECK (state IN ('arriving', 'whole', 'received', 'refused', 'given-up')),
  sha256 TEXT CHECK (length(sha256) = 64 AND sha256 NOT GLOB '*[^0-9a-f]*'),
  file_id TEXT UNIQUE REFERENCES file,
  cause TEXT CHECK (cause <> ''),
  made_ms INTEGER NOT NULL CHECK (made_ms >= 0),
  changed_ms INTEGER NOT NULL CHECK (changed_ms >= made_ms),
  CHECK (state NOT IN ('whole', 'received') OR (arrived = bytes AND sha256 IS NOT NULL)),
  CHECK ((state = 'received') = (file_id IS NOT NULL)),
  CHECK ((state = 'refused') = (cause IS NOT NULL))
) STRICT;
CREATE INDEX upload_open ON upload (changed_ms) WHERE state IN ('arriving', 'whole');
CREATE TRIGGER uploads_change_as_uploads_do BEFORE UPDATE ON upload
  WHEN NEW.id <> OLD.id OR NEW.person_id <> OLD.person_id OR NEW.part_id <> OLD.part_id
    OR NEW.told_json <> OLD.told_json OR NEW.bytes <> OLD.bytes OR NEW.made_ms <> OLD.made_ms
    OR NEW.arrived < OLD.arrived OR OLD.state IN ('received', 'refused', 'given-up')
    OR (OLD.state = 'whole' AND NEW.state = 'arriving') OR (OLD.state = 'arriving' AND NEW.state = 'received')
    OR (OLD.sha256 IS NOT NULL AND NEW.sha256 IS NOT OLD.sha256)
  BEGIN SELECT RAISE(ABORT, 'upload: not a step that an upload takes'); END;
CREATE TRIGGER upload_is_not_deleted BEFORE DELETE ON upload BEGIN SELECT RAISE(ABORT, 'upload: nothing is deleted'); END;
