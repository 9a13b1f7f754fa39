-- The work queue.

CREATE TABLE job (
  id TEXT PRIMARY KEY CHECK (length(id) = 16 AND id NOT GLOB '*[^0-9a-z]*'),
  kind TEXT NOT NULL CHECK (kind IN ('read', 'compare', 'report')),
  -- what the job is for: asked for twice, it is one job
  key TEXT NOT NULL UNIQUE CHECK (key <> ''),
  order_json TEXT NOT NULL CHECK (json_valid(order_json)),
  state TEXT NOT NULL CHECK (state IN ('waiting', 'running', 'done', 'failed')),
  owner TEXT CHECK (owner <> ''),
  lease_until_ms INTEGER CHECK (lease_until_ms >= 0),
  not_before_ms INTEGER NOT NULL CHECK (not_before_ms >= 0),
  tries INTEGER NOT NULL CHECK (tries >= 0),
  most_tries INTEGER NOT NULL CHECK (most_tries >= 1),
  stage TEXT NOT NULL,
  steps_done INTEGER NOT NULL CHECK (steps_done >= 0),
  steps_total INTEGER NOT NULL CHECK (steps_total >= steps_done),
  result_json TEXT CHECK (json_valid(result_json)),
  -- of the last failure; a job that failed has one
  cause TEXT CHECK (cause <> ''),
  made_ms INTEGER NOT NULL CHECK (made_ms >= 0),
  changed_ms INTEGER NOT NULL CHECK (changed_ms >= made_ms),
  CHECK ((state = 'running') = (owner IS NOT NULL) AND (state = 'running') = (lease_until_ms IS NOT NULL)),
  CHECK ((state = 'done') = (result_json IS NOT NULL)),
  CHECK (state <> 'failed' OR cause IS NOT NULL),
  CHECK (tries <= most_tries AND (state <> 'running' OR tries >= 1))
) STRICT;
CREATE INDEX job_to_do ON job (tries, made_ms) WHERE state IN ('waiting', 'running');
CREATE TRIGGER jobs_change_as_jobs_do BEFORE UPDATE ON job
  WHEN NEW.id <> OLD.id OR NEW.kind <> OLD.kind OR NEW.key <> OLD.key OR NEW.order_json <> OLD.order_json
    OR NEW.made_ms <> OLD.made_ms OR OLD.state = 'done'
    OR (OLD.state = 'waiting' AND NEW.state = 'done')
    OR (OLD.state = 'failed' AND NEW.state <> 'waiting')
  BEGIN SELECT RAISE(ABORT, 'job: not a step that a job takes'); END;

CREATE TRIGGER job_is_not_deleted BEFORE DELETE ON job BEGIN SELECT RAISE(ABORT, 'job: nothing is deleted'); END;
