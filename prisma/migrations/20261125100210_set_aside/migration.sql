-- Spans of a logger's readings that the yard set aside, since the probes were not in the pile. The readings stay.
CREATE TABLE "logger_set_aside" (
    "id" UUID NOT NULL,
    "device_id" UUID NOT NULL,
    "target_id" INTEGER,
    "position" TEXT,
    "from_at" TIMESTAMPTZ(3) NOT NULL,
    "to_at" TIMESTAMPTZ(3) NOT NULL,
    "reason" TEXT NOT NULL,
    "body_sha256" BYTEA NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,
    "voided_at" TIMESTAMPTZ(3),
    "voided_by" UUID,
    "void_reason" TEXT,

    CONSTRAINT "logger_set_aside_pk" PRIMARY KEY ("id")
);
CREATE INDEX "logger_set_aside_by_time" ON "logger_set_aside"("device_id", "from_at", "id");
ALTER TABLE "logger_set_aside" ADD CONSTRAINT "logger_set_aside_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "logger_set_aside" ADD CONSTRAINT "logger_set_aside_voided_by_fk" FOREIGN KEY ("voided_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "logger_set_aside" ADD CONSTRAINT "logger_set_aside_device_fk" FOREIGN KEY ("device_id") REFERENCES "device"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE "logger_set_aside" ADD CONSTRAINT "logger_set_aside_target_fk" FOREIGN KEY ("target_id") REFERENCES "device_target"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE logger_set_aside
  ADD CONSTRAINT logger_set_aside_span CHECK (to_at > from_at AND to_at <= from_at + interval '168 hours'),
  ADD CONSTRAINT logger_set_aside_reason CHECK (length(reason) BETWEEN 1 AND 400),
  ADD CONSTRAINT logger_set_aside_position CHECK (length(position) BETWEEN 1 AND 40),
  ADD CONSTRAINT logger_set_aside_void CHECK (
    (voided_at IS NULL) = (voided_by IS NULL) AND (voided_at IS NULL) = (void_reason IS NULL));

CREATE TRIGGER records_keep_rows BEFORE UPDATE OR DELETE ON logger_set_aside FOR EACH ROW
  EXECUTE FUNCTION records_keep('voided_at', 'voided_by', 'void_reason');
CREATE TRIGGER records_keep_table BEFORE TRUNCATE ON logger_set_aside FOR EACH STATEMENT
  EXECUTE FUNCTION records_keep();

-- A closed record is not judged anew: what was told of it can neither be set aside nor be brought back.
CREATE FUNCTION logger_set_aside_open() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  told_of uuid[];
  closed record;
BEGIN
  SELECT array_agg(x.batch_id) INTO told_of FROM (
    SELECT t.batch_id FROM device_target t
      WHERE t.batch_id IS NOT NULL AND t.device_id = NEW.device_id AND t.id = coalesce(NEW.target_id, t.id)
    UNION
    SELECT s.batch_id FROM device_target t JOIN bay_stay s ON s.bay_id = t.bay_id
      WHERE t.device_id = NEW.device_id AND t.id = coalesce(NEW.target_id, t.id)
        AND tstzrange(s.from_at, s.to_at) && tstzrange(NEW.from_at, NEW.to_at, '[]')) AS x;
  PERFORM 1 FROM batch b WHERE b.id = ANY (told_of) ORDER BY b.id FOR SHARE;
  SELECT b.code, closing.stage INTO closed
    FROM batch b JOIN batch_stage closing ON closing.batch_id = b.id AND closing.stage IN ('released', 'condemned')
    WHERE b.id = ANY (told_of) AND b.occurred_at <= NEW.to_at AND closing.entered_at >= NEW.from_at
    ORDER BY b.id LIMIT 1;
  IF FOUND THEN
    RAISE EXCEPTION 'readings of that span are of %, which is %', closed.code, closed.stage
      USING ERRCODE = 'check_violation', CONSTRAINT = 'batch_not_released';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER logger_set_aside_open BEFORE INSERT OR UPDATE ON logger_set_aside
  FOR EACH ROW EXECUTE FUNCTION logger_set_aside_open();
