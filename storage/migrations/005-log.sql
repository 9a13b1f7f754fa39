-- The log's entries, the hashes of its tree, its signed heads and their time-stamps.

CREATE TABLE log_entry (
  log_index INTEGER PRIMARY KEY CHECK (log_index >= 0),
  kind TEXT NOT NULL CHECK (kind <> ''),
  -- null: an entry of the archive as a whole
  title_id TEXT REFERENCES title,
  bytes BLOB NOT NULL,
  leaf_hash BLOB NOT NULL CHECK (length(leaf_hash) = 32),
  at_ms INTEGER NOT NULL CHECK (at_ms >= 0)
) STRICT;
CREATE INDEX log_entry_of_title ON log_entry (title_id, log_index);
CREATE TRIGGER entries_follow_without_a_gap BEFORE INSERT ON log_entry
  WHEN NEW.log_index <> (SELECT 1 + coalesce(max(log_index), -1) FROM log_entry)
  BEGIN SELECT RAISE(ABORT, 'log_entry: an entry follows the last one'); END;

-- Roots of complete subtrees: level 0 are the leaves, `position` counts from the left.
CREATE TABLE log_node (
  level INTEGER NOT NULL CHECK (level BETWEEN 0 AND 62),
  position INTEGER NOT NULL CHECK (position >= 0),
  hash BLOB NOT NULL CHECK (length(hash) = 32),
  PRIMARY KEY (level, position)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER nodes_stand_on_entries BEFORE INSERT ON log_node
  WHEN (NEW.position + 1) << NEW.level > (SELECT count(*) FROM log_entry)
  BEGIN SELECT RAISE(ABORT, 'log_node: the entries below are not there yet'); END;

CREATE TABLE checkpoint (
  tree_size INTEGER PRIMARY KEY CHECK (tree_size >= 0),
  root_hash BLOB NOT NULL CHECK (length(root_hash) = 32),
  note TEXT NOT NULL CHECK (note <> ''),
  at_ms INTEGER NOT NULL CHECK (at_ms >= 0)
) STRICT;
CREATE TRIGGER checkpoints_cover_entries BEFORE INSERT ON checkpoint
  WHEN NEW.tree_size > (SELECT count(*) FROM log_entry)
  BEGIN SELECT RAISE(ABORT, 'checkpoint: larger than the log'); END;

-- Wanted from an authority, or held; a token that is held stays.
CREATE TABLE time_stamp (
  tree_size INTEGER NOT NULL REFERENCES checkpoint,
  authority TEXT NOT NULL CHECK (authority <> ''),
  state TEXT NOT NULL CHECK (state IN ('pending', 'held')),
  token BLOB,
  tries INTEGER NOT NULL CHECK (tries >= 0),
  last_cause TEXT,
  next_try_ms INTEGER CHECK (next_try_ms >= 0),
  asked_ms INTEGER NOT NULL CHECK (asked_ms >= 0),
  held_ms INTEGER CHECK (held_ms >= 0),
  PRIMARY KEY (tree_size, authority),
  CHECK ((state = 'held') = (token IS NOT NULL) AND (state = 'held') = (held_ms IS NOT NULL)),
  CHECK ((state = 'pending') = (next_try_ms IS NOT NULL))
) STRICT;
CREATE INDEX time_stamp_pending ON time_stamp (next_try_ms) WHERE state = 'pending';
CREATE TRIGGER held_time_stamps_stay BEFORE UPDATE ON time_stamp
  WHEN OLD.state = 'held' OR NEW.tree_size <> OLD.tree_size OR NEW.authority <> OLD.authority
  BEGIN SELECT RAISE(ABORT, 'time_stamp: a token that is held stays'); END;

CREATE TRIGGER log_entry_is_not_altered BEFORE UPDATE ON log_entry BEGIN SELECT RAISE(ABORT, 'log_entry: history is not altered'); END;
CREATE TRIGGER log_entry_is_not_deleted BEFORE DELETE ON log_entry BEGIN SELECT RAISE(ABORT, 'log_entry: history is not deleted'); END;
CREATE TRIGGER log_node_is_not_altered BEFORE UPDATE ON log_node BEGIN SELECT RAISE(ABORT, 'log_node: history is not altered'); END;
CREATE TRIGGER log_node_is_not_deleted BEFORE DELETE ON log_node BEGIN SELECT RAISE(ABORT, 'log_node: history is not deleted'); END;
CREATE TRIGGER checkpoint_is_not_altered BEFORE UPDATE ON checkpoint BEGIN SELECT RAISE(ABORT, 'checkpoint: history is not altered'); END;
CREATE TRIGGER checkpoint_is_not_deleted BEFORE DELETE ON checkpoint BEGIN SELECT RAISE(ABORT, 'checkpoint: history is not deleted'); END;
CREATE TRIGGER time_stamp_is_not_deleted BEFORE DELETE ON time_stamp BEGIN SELECT RAISE(ABORT, 'time_stamp: nothing is deleted'); END;
