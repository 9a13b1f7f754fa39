-- Under which name and key the archive signs its log, and with which certificate it seals. The private keys are not here.

CREATE TABLE archive_identity (
  one INTEGER PRIMARY KEY CHECK (one = 1),
  origin TEXT NOT NULL CHECK (origin <> ''),
  verifier_key TEXT NOT NULL CHECK (verifier_key <> ''),
  seal_certificate BLOB NOT NULL CHECK (length(seal_certificate) > 0),
  at_ms INTEGER NOT NULL CHECK (at_ms >= 0)
) STRICT;

CREATE TRIGGER archive_identity_is_not_altered BEFORE UPDATE ON archive_identity BEGIN SELECT RAISE(ABORT, 'archive_identity: history is not altered'); END;
CREATE TRIGGER archive_identity_is_not_deleted BEFORE DELETE ON archive_identity BEGIN SELECT RAISE(ABORT, 'archive_identity: history is not deleted'); END;
