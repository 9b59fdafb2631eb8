-- Loggers: keys, probes and readings.
CREATE TABLE "device" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "code" TEXT NOT NULL,
    "name" TEXT,
    "instrument_id" UUID,
    "key_sha256" BYTEA NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,
    "revoked_at" TIMESTAMPTZ(3),
    "revoked_by" UUID,

    CONSTRAINT "device_pk" PRIMARY KEY ("id")
);
CREATE UNIQUE INDEX "device_key_unique" ON "device"("key_sha256");
CREATE INDEX "device_by_site" ON "device"("site_id", "id");
ALTER TABLE "device" ADD CONSTRAINT "device_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "device" ADD CONSTRAINT "device_revoked_by_fk" FOREIGN KEY ("revoked_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "device" ADD CONSTRAINT "device_site_fk" FOREIGN KEY ("site_id") REFERENCES "site"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "device" ADD CONSTRAINT "device_instrument_fk" FOREIGN KEY ("instrument_id") REFERENCES "instrument"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE device
  ADD CONSTRAINT device_key_digest CHECK (length(key_sha256) = 32),
  ADD CONSTRAINT device_revoked CHECK ((revoked_at IS NULL) = (revoked_by IS NULL));
CREATE UNIQUE INDEX device_code_unique ON device (site_id, code) WHERE revoked_at IS NULL;

CREATE TABLE "device_target" (
    "id" SERIAL NOT NULL,
    "device_id" UUID NOT NULL,
    "bay_id" UUID,
    "batch_id" UUID,
    "released_at" TIMESTAMPTZ(3),

    CONSTRAINT "device_target_pk" PRIMARY KEY ("id")
);
CREATE UNIQUE INDEX "device_target_bay_once" ON "device_target"("device_id", "bay_id");
CREATE UNIQUE INDEX "device_target_batch_once" ON "device_target"("device_id", "batch_id");
CREATE INDEX "device_target_by_bay" ON "device_target"("bay_id");
CREATE INDEX "device_target_by_batch" ON "device_target"("batch_id");
ALTER TABLE "device_target" ADD CONSTRAINT "device_target_device_fk" FOREIGN KEY ("device_id") REFERENCES "device"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "device_target" ADD CONSTRAINT "device_target_bay_fk" FOREIGN KEY ("bay_id") REFERENCES "bay"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "device_target" ADD CONSTRAINT "device_target_batch_fk" FOREIGN KEY ("batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE device_target ADD CONSTRAINT device_target_one CHECK (num_nonnulls(bay_id, batch_id) = 1);
-- Two loggers that tell of one bay would contradict each other, and nobody could say which lay where.
CREATE UNIQUE INDEX device_bay_alone ON device_target (bay_id) WHERE released_at IS NULL;

CREATE FUNCTION device_target_of_same_site() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF (SELECT site_id FROM device WHERE id = NEW.device_id) <>
     coalesce((SELECT site_id FROM bay WHERE id = NEW.bay_id), (SELECT site_id FROM batch WHERE id = NEW.batch_id)) THEN
    RAISE EXCEPTION 'the bay or batch is at another site'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'device_target_of_same_site';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER device_target_of_same_site BEFORE INSERT ON device_target
  FOR EACH ROW EXECUTE FUNCTION device_target_of_same_site();

CREATE TABLE "logger_probe" (
    "id" SERIAL NOT NULL,
    "target_id" INTEGER NOT NULL,
    "position" TEXT NOT NULL,

    CONSTRAINT "logger_probe_pk" PRIMARY KEY ("id")
);
CREATE UNIQUE INDEX "logger_probe_once" ON "logger_probe"("target_id", "position");
ALTER TABLE "logger_probe" ADD CONSTRAINT "logger_probe_target_fk" FOREIGN KEY ("target_id") REFERENCES "device_target"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

CREATE TABLE "logger_placement" (
    "probe_id" INTEGER NOT NULL,
    "number" SMALLINT NOT NULL,
    "zone" TEXT,
    "depth_mm" INTEGER,

    CONSTRAINT "logger_placement_pk" PRIMARY KEY ("probe_id", "number")
);
ALTER TABLE "logger_placement" ADD CONSTRAINT "logger_placement_probe_fk" FOREIGN KEY ("probe_id") REFERENCES "logger_probe"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
CREATE UNIQUE INDEX logger_placement_once ON logger_placement (probe_id, zone, depth_mm) NULLS NOT DISTINCT;
ALTER TABLE logger_placement
  ADD CONSTRAINT logger_placement_depth CHECK (depth_mm BETWEEN 0 AND 10000),
  ADD CONSTRAINT logger_placement_zone CHECK (length(zone) BETWEEN 1 AND 40),
  ADD CONSTRAINT logger_placement_number CHECK (number >= 0);

-- The columns in this order pack without a gap: 40 bytes a row with its header. No foreign keys: one look a statement,
-- below, instead of one a row.
CREATE TABLE "logger_reading" (
    "at" TIMESTAMPTZ(3) NOT NULL,
    "probe_id" INTEGER NOT NULL,
    "temperature_deci_c" SMALLINT NOT NULL,
    "placement" SMALLINT NOT NULL,

    CONSTRAINT "logger_reading_pk" PRIMARY KEY ("probe_id", "at")
);
ALTER TABLE logger_reading
  ADD CONSTRAINT logger_reading_temperature CHECK (temperature_deci_c BETWEEN -400 AND 1500);

CREATE TABLE "logger_hour" (
    "probe_id" INTEGER NOT NULL,
    "hour" TIMESTAMPTZ(3) NOT NULL,
    "readings" INTEGER NOT NULL,
    "min_deci_c" SMALLINT NOT NULL,
    "max_deci_c" SMALLINT NOT NULL,
    "sum_deci_c" INTEGER NOT NULL,
    "first_at" TIMESTAMPTZ(3) NOT NULL,
    "last_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "logger_hour_pk" PRIMARY KEY ("probe_id", "hour")
);
-- An hour under way is written every minute: room for the new version beside the old one, so that no index is touched.
ALTER TABLE logger_hour SET (fillfactor = 70);

-- ---------------------------------------------------------------------------------------------------------
-- Records keep.

DO $$
DECLARE
  spec record;
BEGIN
  FOR spec IN
    SELECT * FROM (VALUES
      ('device', '''revoked_at'', ''revoked_by'''),
      ('device_target', '''released_at'''),
      ('logger_probe', ''),
      ('logger_placement', ''),
      ('logger_reading', '')
    ) AS t (kept, settable)
  LOOP
    EXECUTE format('CREATE TRIGGER records_keep_rows BEFORE UPDATE OR DELETE ON %I FOR EACH ROW
                    EXECUTE FUNCTION records_keep(%s)', spec.kept, spec.settable);
    EXECUTE format('CREATE TRIGGER records_keep_table BEFORE TRUNCATE ON %I FOR EACH STATEMENT
                    EXECUTE FUNCTION records_keep()', spec.kept);
  END LOOP;
END $$;

-- What must hold of new readings, and what is derived from them: by the statement, whoever makes it and by whatever
-- way. Rows that were there already (ON CONFLICT DO NOTHING) are not among them.
CREATE FUNCTION logger_reading_added() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (
    SELECT FROM (SELECT DISTINCT probe_id, placement FROM added) AS a
    WHERE NOT EXISTS (SELECT FROM logger_placement p WHERE p.probe_id = a.probe_id AND p.number = a.placement)) THEN
    RAISE EXCEPTION 'a reading is of a probe that is not there'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'logger_reading_probe';
  END IF;
  PERFORM require_stage(t.batch_id, ARRAY['building', 'active', 'curing'], 'batch_not_released')
    FROM device_target t
    WHERE t.batch_id IS NOT NULL AND t.id IN (
      SELECT p.target_id FROM logger_probe p WHERE p.id IN (SELECT probe_id FROM added))
    ORDER BY t.batch_id;
  INSERT INTO logger_hour AS h (probe_id, hour, readings, min_deci_c, max_deci_c, sum_deci_c, first_at, last_at)
    SELECT probe_id, date_bin('1 hour', at, '2000-01-01Z') AS hour, count(*), min(temperature_deci_c),
      max(temperature_deci_c), sum(temperature_deci_c), min(at), max(at)
    FROM added GROUP BY probe_id, hour ORDER BY probe_id, hour
    ON CONFLICT (probe_id, hour) DO UPDATE SET
      readings = h.readings + excluded.readings,
      min_deci_c = least(h.min_deci_c, excluded.min_deci_c),
      max_deci_c = greatest(h.max_deci_c, excluded.max_deci_c),
      sum_deci_c = h.sum_deci_c + excluded.sum_deci_c,
      first_at = least(h.first_at, excluded.first_at),
      last_at = greatest(h.last_at, excluded.last_at);
  RETURN NULL;
END $$;
CREATE TRIGGER logger_reading_added AFTER INSERT ON logger_reading
  REFERENCING NEW TABLE AS added FOR EACH STATEMENT EXECUTE FUNCTION logger_reading_added();
