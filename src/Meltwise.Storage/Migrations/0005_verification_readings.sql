-- The single readings of a verification, beside the mean that was found: numbers in the unit of the instrument, parted by spaces.

ALTER TABLE verification_version ADD COLUMN readings TEXT;
