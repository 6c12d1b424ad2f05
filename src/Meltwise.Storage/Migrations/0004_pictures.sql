-- Pictures of heats. The original file is kept by its digest: beside a bench file in the folder FILE.pictures, on a server in the table
-- picture_original, in parts, so that the keeper's own backup holds it too. On a bench file that table stays empty.

CREATE TABLE picture (name TEXT NOT NULL PRIMARY KEY);
CREATE TABLE picture_version (
  entry INTEGER PRIMARY KEY,
  name TEXT NOT NULL REFERENCES picture (name),
  heat TEXT NOT NULL REFERENCES heat (name),
  coupon TEXT,
  mount TEXT,
  field INTEGER,
  plane TEXT,
  magnification TEXT,
  etch TEXT,
  microscope TEXT,
  micrometres_per_pixel DOUBLE PRECISION,
  scale_source TEXT,
  sha256 TEXT NOT NULL,
  file_name TEXT NOT NULL,
  format TEXT NOT NULL,
  width INTEGER NOT NULL,
  height INTEGER NOT NULL,
  taken_on TEXT,
  notes TEXT,
  set_aside TEXT,
  replaced_by INTEGER,
  FOREIGN KEY (heat, coupon) REFERENCES coupon (heat, coupon)
);
CREATE UNIQUE INDEX picture_current ON picture_version (name) WHERE replaced_by IS NULL;
CREATE INDEX picture_replaced ON picture_version (replaced_by) WHERE replaced_by IS NOT NULL;
CREATE INDEX picture_of_heat ON picture_version (heat) WHERE replaced_by IS NULL;

CREATE TABLE picture_measurement_version (
  entry INTEGER PRIMARY KEY,
  picture TEXT NOT NULL REFERENCES picture (name),
  settings TEXT NOT NULL,
  result TEXT NOT NULL,
  program TEXT NOT NULL,
  made_at_utc TEXT NOT NULL,
  replaced_by INTEGER
);
CREATE UNIQUE INDEX picture_measurement_current ON picture_measurement_version (picture) WHERE replaced_by IS NULL;
CREATE INDEX picture_measurement_replaced ON picture_measurement_version (replaced_by) WHERE replaced_by IS NOT NULL;

CREATE TABLE picture_original (
  sha256 TEXT NOT NULL,
  part INTEGER NOT NULL,
  content BYTEA NOT NULL,
  PRIMARY KEY (sha256, part)
);
