-- What a heat went through hot before it was bought: consolidation, soaks, reheats; one current version for a heat. The steps are JSON.

CREATE TABLE hot_history_version (
  entry INTEGER PRIMARY KEY,
  heat TEXT NOT NULL REFERENCES heat (name),
  steps TEXT NOT NULL,
  largest_powder_um DOUBLE PRECISION,
  atmosphere TEXT,
  cooling TEXT,
  told TEXT,
  replaced_by INTEGER
);
CREATE UNIQUE INDEX hot_history_current ON hot_history_version (heat) WHERE replaced_by IS NULL;
CREATE INDEX hot_history_replaced ON hot_history_version (replaced_by) WHERE replaced_by IS NOT NULL;
