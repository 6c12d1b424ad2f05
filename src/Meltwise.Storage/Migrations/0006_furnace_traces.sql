-- Traces of furnace loads: points (minutes and degrees Celsius in turn), and the file they came in (gzip, base64) with its digest. All in the
-- record itself, so that trail, check, backup and packs hold it.

CREATE TABLE furnace_trace_version (
  entry INTEGER PRIMARY KEY,
  name TEXT NOT NULL,
  load TEXT NOT NULL,
  step TEXT,
  channel TEXT NOT NULL,
  set_c DOUBLE PRECISION NOT NULL,
  tolerance_c DOUBLE PRECISION NOT NULL,
  started_at TEXT,
  points TEXT NOT NULL,
  file_name TEXT,
  sha256 TEXT NOT NULL,
  original TEXT,
  set_aside TEXT,
  replaced_by INTEGER
);
CREATE UNIQUE INDEX furnace_trace_current ON furnace_trace_version (name) WHERE replaced_by IS NULL;
CREATE INDEX furnace_trace_replaced ON furnace_trace_version (replaced_by) WHERE replaced_by IS NOT NULL;
CREATE INDEX furnace_trace_of_load ON furnace_trace_version (load) WHERE replaced_by IS NULL;
