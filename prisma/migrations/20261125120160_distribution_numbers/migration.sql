-- Compost that leaves is numbered within its batch, so that its label can name it: QS-26-004/3. A number is never given
-- twice, and stays whatever is voided.
ALTER TABLE "distribution" ADD COLUMN "number" INTEGER;

ALTER TABLE distribution DISABLE TRIGGER USER;
UPDATE distribution d SET number = n.number
  FROM (SELECT id, row_number() OVER (PARTITION BY batch_id ORDER BY recorded_at, id) AS number FROM distribution) n
  WHERE n.id = d.id;
ALTER TABLE distribution ENABLE TRIGGER USER;

ALTER TABLE "distribution" ALTER COLUMN "number" SET NOT NULL;
CREATE UNIQUE INDEX "distribution_number_unique" ON "distribution"("batch_id", "number");

CREATE FUNCTION distribution_number() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM 1 FROM batch WHERE id = NEW.batch_id FOR UPDATE;
  SELECT coalesce(max(number), 0) + 1 INTO NEW.number FROM distribution WHERE batch_id = NEW.batch_id;
  RETURN NEW;
END $$;
CREATE TRIGGER distribution_number BEFORE INSERT ON distribution
  FOR EACH ROW EXECUTE FUNCTION distribution_number();
