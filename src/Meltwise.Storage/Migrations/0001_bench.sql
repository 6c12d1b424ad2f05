-- The bench, first version. Words that both engines take alike; what differs is in the folders Sqlite and Postgres.
-- A record that others name has its name in a table of its own; its contents are in the table of versions beside it.
-- In a table of versions "entry" is the number of the change in the trail, and "replaced_by" the entry that took its place:
-- the row without one is the current version. Nothing is deleted. Instants and days are text (ISO 8601, UTC), so that
-- both engines give back every digit that was written.

CREATE TABLE bench (
  one INTEGER PRIMARY KEY CHECK (one = 1),
  made_at_utc TEXT NOT NULL,
  is_demonstration INTEGER NOT NULL
);

-- One line per transaction; entries first_entry to last_entry belong to it. The digest runs over the line before, this line and all its entries.
CREATE TABLE trail (
  number INTEGER PRIMARY KEY,
  first_entry INTEGER NOT NULL UNIQUE,
  last_entry INTEGER NOT NULL UNIQUE,
  at_utc TEXT NOT NULL,
  made_by TEXT NOT NULL,
  why TEXT,
  digest TEXT NOT NULL
);

CREATE TABLE source (name TEXT NOT NULL PRIMARY KEY);
CREATE TABLE source_version (
  entry INTEGER PRIMARY KEY,
  name TEXT NOT NULL REFERENCES source (name),
  public_label TEXT NOT NULL,
  notes TEXT,
  replaced_by INTEGER
);
CREATE UNIQUE INDEX source_current ON source_version (name) WHERE replaced_by IS NULL;
CREATE INDEX source_replaced ON source_version (replaced_by) WHERE replaced_by IS NOT NULL;

CREATE TABLE grade (name TEXT NOT NULL PRIMARY KEY);
CREATE TABLE grade_version (
  entry INTEGER PRIMARY KEY,
  name TEXT NOT NULL REFERENCES grade (name),
  family TEXT,
  private_alias TEXT,
  replaced_by INTEGER
);
CREATE UNIQUE INDEX grade_current ON grade_version (name) WHERE replaced_by IS NULL;
CREATE INDEX grade_replaced ON grade_version (replaced_by) WHERE replaced_by IS NOT NULL;

CREATE TABLE heat (name TEXT NOT NULL PRIMARY KEY);
CREATE TABLE heat_version (
  entry INTEGER PRIMARY KEY,
  name TEXT NOT NULL REFERENCES heat (name),
  source TEXT REFERENCES source (name),
  grade TEXT REFERENCES grade (name),
  route TEXT,
  consolidation TEXT,
  product TEXT,
  received TEXT,
  notes TEXT,
  replaced_by INTEGER
);
CREATE UNIQUE INDEX heat_current ON heat_version (name) WHERE replaced_by IS NULL;
CREATE INDEX heat_replaced ON heat_version (replaced_by) WHERE replaced_by IS NOT NULL;

CREATE TABLE chemistry_version (
  entry INTEGER PRIMARY KEY,
  heat TEXT NOT NULL REFERENCES heat (name),
  element TEXT NOT NULL,
  method TEXT,
  laboratory TEXT,
  analysed_on TEXT,
  typed_value DOUBLE PRECISION NOT NULL,
  unit TEXT NOT NULL,
  censoring TEXT NOT NULL,
  typed TEXT NOT NULL,
  expanded_uncertainty DOUBLE PRECISION,
  coverage_factor DOUBLE PRECISION,
  replaced_by INTEGER
);
CREATE UNIQUE INDEX chemistry_current ON chemistry_version
  (heat, element, COALESCE(method, ''), COALESCE(laboratory, ''), COALESCE(analysed_on, '')) WHERE replaced_by IS NULL;
CREATE INDEX chemistry_replaced ON chemistry_version (replaced_by) WHERE replaced_by IS NOT NULL;

CREATE TABLE treatment (name TEXT NOT NULL PRIMARY KEY);
CREATE TABLE treatment_version (
  entry INTEGER PRIMARY KEY,
  name TEXT NOT NULL REFERENCES treatment (name),
  steps TEXT NOT NULL,
  set_values TEXT NOT NULL,
  temper_family TEXT,
  notes TEXT,
  replaced_by INTEGER
);
CREATE UNIQUE INDEX treatment_current ON treatment_version (name) WHERE replaced_by IS NULL;
CREATE INDEX treatment_replaced ON treatment_version (replaced_by) WHERE replaced_by IS NOT NULL;

CREATE TABLE coupon (
  heat TEXT NOT NULL REFERENCES heat (name),
  coupon TEXT NOT NULL,
  PRIMARY KEY (heat, coupon)
);
CREATE TABLE coupon_version (
  entry INTEGER PRIMARY KEY,
  heat TEXT NOT NULL,
  coupon TEXT NOT NULL,
  orientation TEXT,
  geometry TEXT,
  treatment TEXT REFERENCES treatment (name),
  furnace_load TEXT,
  test_order INTEGER,
  code TEXT,
  replaced_by INTEGER,
  FOREIGN KEY (heat, coupon) REFERENCES coupon (heat, coupon)
);
CREATE UNIQUE INDEX coupon_current ON coupon_version (heat, coupon) WHERE replaced_by IS NULL;
CREATE INDEX coupon_replaced ON coupon_version (replaced_by) WHERE replaced_by IS NOT NULL;

CREATE TABLE instrument (name TEXT NOT NULL PRIMARY KEY);
CREATE TABLE instrument_version (
  entry INTEGER PRIMARY KEY,
  name TEXT NOT NULL REFERENCES instrument (name),
  kind TEXT NOT NULL,
  property TEXT NOT NULL,
  unit TEXT NOT NULL,
  resolution DOUBLE PRECISION,
  usable_low DOUBLE PRECISION,
  usable_high DOUBLE PRECISION,
  notes TEXT,
  replaced_by INTEGER
);
CREATE UNIQUE INDEX instrument_current ON instrument_version (name) WHERE replaced_by IS NULL;
CREATE INDEX instrument_replaced ON instrument_version (replaced_by) WHERE replaced_by IS NOT NULL;

CREATE TABLE verification_version (
  entry INTEGER PRIMARY KEY,
  instrument TEXT NOT NULL REFERENCES instrument (name),
  verified_on TEXT NOT NULL,
  reference TEXT,
  valid_until TEXT NOT NULL,
  passed INTEGER NOT NULL,
  reference_value DOUBLE PRECISION,
  found DOUBLE PRECISION,
  notes TEXT,
  replaced_by INTEGER
);
CREATE UNIQUE INDEX verification_current ON verification_version (instrument, verified_on, COALESCE(reference, '')) WHERE replaced_by IS NULL;
CREATE INDEX verification_replaced ON verification_version (replaced_by) WHERE replaced_by IS NOT NULL;

CREATE TABLE reading_version (
  entry INTEGER PRIMARY KEY,
  heat TEXT NOT NULL,
  coupon TEXT NOT NULL,
  property TEXT NOT NULL,
  number INTEGER NOT NULL,
  typed_value DOUBLE PRECISION NOT NULL,
  unit TEXT NOT NULL,
  censoring TEXT NOT NULL,
  typed TEXT NOT NULL,
  instrument TEXT REFERENCES instrument (name),
  session TEXT,
  test_temperature_k DOUBLE PRECISION,
  read_at_utc TEXT,
  read_on TEXT,
  state TEXT NOT NULL,
  cause TEXT,
  replaced_by INTEGER,
  FOREIGN KEY (heat, coupon) REFERENCES coupon (heat, coupon)
);
CREATE UNIQUE INDEX reading_current ON reading_version (heat, coupon, property, number) WHERE replaced_by IS NULL;
CREATE INDEX reading_replaced ON reading_version (replaced_by) WHERE replaced_by IS NOT NULL;

-- A reading taken back: its last version is replaced by the entry of this row.
CREATE TABLE withdrawal (
  entry INTEGER PRIMARY KEY,
  heat TEXT NOT NULL,
  coupon TEXT NOT NULL,
  property TEXT NOT NULL,
  number INTEGER NOT NULL,
  FOREIGN KEY (heat, coupon) REFERENCES coupon (heat, coupon)
);

CREATE TABLE enquiry (name TEXT NOT NULL PRIMARY KEY);
CREATE TABLE enquiry_version (
  entry INTEGER PRIMARY KEY,
  name TEXT NOT NULL REFERENCES enquiry (name),
  title TEXT NOT NULL,
  sheet TEXT NOT NULL,
  replaced_by INTEGER
);
CREATE UNIQUE INDEX enquiry_current ON enquiry_version (name) WHERE replaced_by IS NULL;
CREATE INDEX enquiry_replaced ON enquiry_version (replaced_by) WHERE replaced_by IS NOT NULL;

CREATE TABLE document_version (
  entry INTEGER PRIMARY KEY,
  enquiry TEXT NOT NULL REFERENCES enquiry (name),
  kind TEXT NOT NULL,
  json TEXT NOT NULL,
  made_at_utc TEXT NOT NULL,
  replaced_by INTEGER
);
CREATE UNIQUE INDEX document_current ON document_version (enquiry, kind) WHERE replaced_by IS NULL;
CREATE INDEX document_replaced ON document_version (replaced_by) WHERE replaced_by IS NOT NULL;

CREATE TABLE intake_version (
  entry INTEGER PRIMARY KEY,
  digest TEXT NOT NULL,
  file_name TEXT NOT NULL,
  row_count INTEGER NOT NULL,
  replaced_by INTEGER
);
CREATE UNIQUE INDEX intake_current ON intake_version (digest) WHERE replaced_by IS NULL;
CREATE INDEX intake_replaced ON intake_version (replaced_by) WHERE replaced_by IS NOT NULL;
