-- Issued reports: what was asked for is known again when it is sent again, and rows are there before the seal over them.

ALTER TABLE "diversion_report_version" ADD COLUMN "entry_id" UUID NOT NULL, ADD COLUMN "body_sha256" BYTEA NOT NULL;
CREATE UNIQUE INDEX "diversion_report_version_entry_unique" ON "diversion_report_version"("entry_id");

-- The rows are taken first: the document holds their digest, the seal is of the document, and the version names the seal.
ALTER TABLE diversion_report_row
  ALTER CONSTRAINT diversion_report_row_report_fk DEFERRABLE INITIALLY DEFERRED;

-- Nothing joins a version once it is issued, and versions follow one another.
CREATE FUNCTION diversion_report_row_new() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT 1 FROM added a JOIN diversion_report_version v USING (report_id, version)) THEN
    RAISE EXCEPTION 'that version is issued: its rows stay as they are'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'diversion_report_row_sealed';
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER diversion_report_row_new AFTER INSERT ON diversion_report_row
  REFERENCING NEW TABLE AS added FOR EACH STATEMENT EXECUTE FUNCTION diversion_report_row_new();

CREATE FUNCTION diversion_report_version_next() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NEW.version <> 1 + (SELECT count(*) FROM diversion_report_version WHERE report_id = NEW.report_id) THEN
    RAISE EXCEPTION 'version % does not follow the one before', NEW.version
      USING ERRCODE = 'check_violation', CONSTRAINT = 'diversion_report_version_follows';
  END IF;
  IF NOT EXISTS (SELECT 1 FROM sealed_document d WHERE d.seal = NEW.seal AND d.kind = 'diversion-report'
                   AND d.subject_id = NEW.report_id AND d.version = NEW.version) THEN
    RAISE EXCEPTION 'the seal is of another document'
      USING ERRCODE = 'check_violation', CONSTRAINT = 'diversion_report_version_seal';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER diversion_report_version_next BEFORE INSERT ON diversion_report_version
  FOR EACH ROW EXECUTE FUNCTION diversion_report_version_next();
