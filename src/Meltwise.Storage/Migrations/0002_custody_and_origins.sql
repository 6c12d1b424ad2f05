-- Custody of a heat's material, where a coupon was cut, when its hardness was read, and where its fracture began.
-- New columns stand at the end of their table; the digest of an entry from before leaves them off.

CREATE TABLE custody_version (
  entry INTEGER PRIMARY KEY,
  heat TEXT NOT NULL REFERENCES heat (name),
  received_from TEXT,
  received_by TEXT,
  size TEXT,
  marks_as_found TEXT,
  certificate TEXT,
  certificate_on TEXT,
  retained TEXT,
  retained_until TEXT,
  notes TEXT,
  replaced_by INTEGER
);
CREATE UNIQUE INDEX custody_current ON custody_version (heat) WHERE replaced_by IS NULL;
CREATE INDEX custody_replaced ON custody_version (replaced_by) WHERE replaced_by IS NOT NULL;

ALTER TABLE coupon_version ADD COLUMN position TEXT;
ALTER TABLE coupon_version ADD COLUMN hardness_moment TEXT;
ALTER TABLE coupon_version ADD COLUMN hardness_order INTEGER;

CREATE TABLE fracture_origin_version (
  entry INTEGER PRIMARY KEY,
  heat TEXT NOT NULL,
  coupon TEXT NOT NULL,
  origin_kind TEXT NOT NULL,
  size_um DOUBLE PRECISION,
  from_surface_um DOUBLE PRECISION,
  seen_by TEXT,
  notes TEXT,
  replaced_by INTEGER,
  FOREIGN KEY (heat, coupon) REFERENCES coupon (heat, coupon)
);
CREATE UNIQUE INDEX fracture_origin_current ON fracture_origin_version (heat, coupon) WHERE replaced_by IS NULL;
CREATE INDEX fracture_origin_replaced ON fracture_origin_version (replaced_by) WHERE replaced_by IS NOT NULL;
