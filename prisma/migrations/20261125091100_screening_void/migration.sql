-- Overs that another batch has taken were given by screenings that stand: one of these is not taken back under it.
CREATE FUNCTION screening_covers_overs() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  given bigint;
  taken bigint;
BEGIN
  SELECT coalesce(sum(overs_g), 0) INTO given FROM screening
    WHERE batch_id = NEW.batch_id AND voided_at IS NULL AND id <> NEW.id;
  SELECT coalesce(sum(mass_g), 0) INTO taken FROM amendment
    WHERE from_batch_id = NEW.batch_id AND voided_at IS NULL;
  IF taken > given THEN
    RAISE EXCEPTION 'other batches have taken % g more of its overs than would be left', taken - given
      USING ERRCODE = 'check_violation', CONSTRAINT = 'screening_covers_overs';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER screening_void_covers_overs BEFORE UPDATE ON screening
  FOR EACH ROW WHEN (OLD.voided_at IS NULL AND NEW.voided_at IS NOT NULL) EXECUTE FUNCTION screening_covers_overs();
