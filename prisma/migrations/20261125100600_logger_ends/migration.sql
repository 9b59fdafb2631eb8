-- No signature from before what a logger told: see docs/design.md §4.

-- The last reading that a logger told of a batch and that was not set aside: one look into the index for each probe and
-- stretch, however much lies there.
CREATE FUNCTION logger_latest(of_batch uuid) RETURNS timestamptz LANGUAGE sql STABLE AS $$
  WITH span AS (
    SELECT t.id AS target_id, t.device_id, b.occurred_at AS from_at, NULL::timestamptz AS to_at
      FROM batch b JOIN device_target t ON t.batch_id = b.id WHERE b.id = of_batch
    UNION ALL
    SELECT t.id, t.device_id, s.from_at, s.to_at
      FROM bay_stay s JOIN device_target t ON t.bay_id = s.bay_id WHERE s.batch_id = of_batch)
  SELECT max(last.at)
  FROM span JOIN logger_probe p ON p.target_id = span.target_id
    CROSS JOIN LATERAL unnest(
      tstzmultirange(tstzrange(span.from_at, span.to_at))
      - coalesce((SELECT range_agg(tstzrange(a.from_at, a.to_at + interval '1 ms')) FROM logger_set_aside a
                  WHERE a.device_id = span.device_id AND a.voided_at IS NULL
                    AND coalesce(a.target_id, p.target_id) = p.target_id
                    AND coalesce(a.position, p.position) = p.position), '{}')) AS part
    CROSS JOIN LATERAL (
      SELECT r.at FROM logger_reading r
      WHERE r.probe_id = p.id AND r.at >= lower(part) AND r.at < coalesce(upper(part), 'infinity')
      ORDER BY r.at DESC LIMIT 1) AS last
$$;

-- As before, and not before what a logger told. Loggers go on reading while somebody signs: who signs as of now is not
-- kept from it by what was told in the minutes around it.
CREATE OR REPLACE FUNCTION release_after_records() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  later text;
BEGIN
  SELECT what INTO later FROM batch_latest(NEW.batch_id) WHERE at > NEW.signed_at ORDER BY at DESC LIMIT 1;
  IF NOT FOUND AND NEW.signed_at < now() - interval '5 minutes' AND logger_latest(NEW.batch_id) > NEW.signed_at THEN
    later := 'a reading of a logger';
  END IF;
  IF later IS NOT NULL THEN
    RAISE EXCEPTION '% of the batch is later than the signature', later
      USING ERRCODE = 'check_violation', CONSTRAINT = 'release_after_records';
  END IF;
  RETURN NEW;
END $$;

-- A clock that counts in milliseconds may tell more in an hour than the sum of the tenths had room for.
ALTER TABLE logger_hour ALTER COLUMN sum_deci_c TYPE BIGINT;
