-- Process rules of the programme's own: every change is a new version, and nothing is taken back under an old batch.
CREATE TABLE "process_rule" (
    "code" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "definition" JSONB NOT NULL,
    "entered" JSONB NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,

    CONSTRAINT "process_rule_pk" PRIMARY KEY ("code", "version")
);
ALTER TABLE "process_rule" ADD CONSTRAINT "process_rule_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
ALTER TABLE process_rule
  ADD CONSTRAINT process_rule_code_form CHECK (code ~ '^[a-z0-9][a-z0-9-]{0,59}$'),
  ADD CONSTRAINT process_rule_version CHECK (version >= 1);
CREATE TRIGGER records_keep_rows BEFORE UPDATE OR DELETE ON process_rule FOR EACH ROW EXECUTE FUNCTION records_keep();
CREATE TRIGGER records_keep_table BEFORE TRUNCATE ON process_rule FOR EACH STATEMENT EXECUTE FUNCTION records_keep();

-- What a permit asks besides its process rule.
ALTER TABLE "permit" ADD COLUMN "further_rules" TEXT[] DEFAULT ARRAY[]::TEXT[];

-- The place of a pile that a probe stands for.
ALTER TABLE "check_reading" ADD COLUMN "zone" TEXT;
ALTER TABLE check_reading ADD CONSTRAINT check_reading_zone CHECK (length(zone) BETWEEN 1 AND 40);
