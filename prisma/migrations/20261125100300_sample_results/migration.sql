-- A sample is a panel: many figures, each with its parameter and its unit, instead of one figure of anything.

ALTER TABLE "sample" ADD COLUMN "results" JSONB NOT NULL DEFAULT '[]';
ALTER TABLE sample ADD CONSTRAINT sample_results CHECK (jsonb_typeof(results) = 'array');

-- What a figure of before was of was never said, so it cannot be read by a table. It is kept as it was typed, in words:
-- the one change to records that keep, made under their triggers' backs.
ALTER TABLE sample DISABLE TRIGGER USER;
UPDATE sample SET finding = concat_ws('; ', concat_ws(' ', trim_scale(value)::text, unit), finding)
  WHERE value IS NOT NULL;
ALTER TABLE sample ENABLE TRIGGER USER;

ALTER TABLE "sample" DROP COLUMN "value", DROP COLUMN "unit";
