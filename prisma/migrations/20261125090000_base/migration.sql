-- CreateTable
CREATE TABLE "batch" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "code" TEXT NOT NULL,
    "method" TEXT NOT NULL,
    "process_rule" TEXT,
    "occurred_at" TIMESTAMPTZ(3) NOT NULL,
    "note" TEXT,
    "body_sha256" BYTEA NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,

    CONSTRAINT "batch_pk" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "batch_stage" (
    "batch_id" UUID NOT NULL,
    "stage" TEXT NOT NULL,
    "entered_at" TIMESTAMPTZ(3) NOT NULL,
    "reason" TEXT,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,

    CONSTRAINT "batch_stage_pk" PRIMARY KEY ("batch_id","stage")
);

-- CreateTable
CREATE TABLE "bay_stay" (
    "id" UUID NOT NULL,
    "batch_id" UUID NOT NULL,
    "bay_id" UUID NOT NULL,
    "from_at" TIMESTAMPTZ(3) NOT NULL,
    "to_at" TIMESTAMPTZ(3),
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,

    CONSTRAINT "bay_stay_pk" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "assignment" (
    "id" UUID NOT NULL,
    "batch_id" UUID NOT NULL,
    "drop_off_id" UUID NOT NULL,
    "mass_g" INTEGER NOT NULL,
    "occurred_at" TIMESTAMPTZ(3) NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,
    "voided_at" TIMESTAMPTZ(3),
    "voided_by" UUID,
    "void_reason" TEXT,

    CONSTRAINT "assignment_pk" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "amendment" (
    "id" UUID NOT NULL,
    "batch_id" UUID NOT NULL,
    "material_code" TEXT NOT NULL,
    "source" TEXT NOT NULL,
    "from_batch_id" UUID,
    "basis" TEXT NOT NULL,
    "mass_g" INTEGER NOT NULL,
    "volume_ml" BIGINT,
    "density_kg_m3" DECIMAL(7,1),
    "density_source" TEXT,
    "entered" JSONB NOT NULL,
    "occurred_at" TIMESTAMPTZ(3) NOT NULL,
    "note" TEXT,
    "body_sha256" BYTEA NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,
    "voided_at" TIMESTAMPTZ(3),
    "voided_by" UUID,
    "void_reason" TEXT,

    CONSTRAINT "amendment_pk" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "shift" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "opened_at" TIMESTAMPTZ(3) NOT NULL,
    "closed_at" TIMESTAMPTZ(3),
    "closed_by" UUID,
    "counted_lots" INTEGER,
    "closing_note" TEXT,
    "instrument_id" UUID,
    "note" TEXT,
    "body_sha256" BYTEA NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,

    CONSTRAINT "shift_pk" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "drop_off" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "shift_id" UUID,
    "body_sha256" BYTEA NOT NULL,
    "import_id" UUID,
    "import_key" BYTEA,

    CONSTRAINT "drop_off_pk" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "drop_off_revision" (
    "drop_off_id" UUID NOT NULL,
    "revision" INTEGER NOT NULL,
    "site_id" UUID NOT NULL,
    "occurred_at" TIMESTAMPTZ(3) NOT NULL,
    "material_code" TEXT NOT NULL,
    "jurisdiction_id" UUID NOT NULL,
    "depositor" TEXT NOT NULL,
    "basis" TEXT NOT NULL,
    "gross_g" INTEGER,
    "tare_g" INTEGER,
    "net_g" INTEGER NOT NULL,
    "rejected_g" INTEGER NOT NULL,
    "accepted_g" INTEGER NOT NULL,
    "volume_ml" BIGINT,
    "density_kg_m3" DECIMAL(7,1),
    "density_source" TEXT,
    "container_id" UUID,
    "instrument_id" UUID,
    "note" TEXT,
    "entered" JSONB NOT NULL,
    "warnings" JSONB NOT NULL,
    "voided" BOOLEAN NOT NULL DEFAULT false,
    "reason" TEXT,
    "superseded_by" INTEGER,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,

    CONSTRAINT "drop_off_revision_pk" PRIMARY KEY ("drop_off_id","revision")
);

-- CreateTable
CREATE TABLE "drop_off_reject" (
    "drop_off_id" UUID NOT NULL,
    "revision" INTEGER NOT NULL,
    "line" INTEGER NOT NULL,
    "contaminant" TEXT NOT NULL,
    "mass_g" INTEGER NOT NULL,
    "went_to" TEXT NOT NULL,
    "entered" JSONB NOT NULL,

    CONSTRAINT "drop_off_reject_pk" PRIMARY KEY ("drop_off_id","revision","line")
);

-- CreateTable
CREATE TABLE "refusal" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "shift_id" UUID,
    "occurred_at" TIMESTAMPTZ(3) NOT NULL,
    "material_code" TEXT NOT NULL,
    "contaminant" TEXT NOT NULL,
    "mass_g" INTEGER,
    "reason" TEXT NOT NULL,
    "entered" JSONB NOT NULL,
    "body_sha256" BYTEA NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,
    "voided_at" TIMESTAMPTZ(3),
    "voided_by" UUID,
    "void_reason" TEXT,

    CONSTRAINT "refusal_pk" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "batch_check" (
    "id" UUID NOT NULL,
    "batch_id" UUID NOT NULL,
    "occurred_at" TIMESTAMPTZ(3) NOT NULL,
    "moisture" TEXT,
    "moisture_percent" DECIMAL(5,2),
    "odour" TEXT,
    "oxygen_percent" DECIMAL(5,2),
    "ambient_deci_c" INTEGER,
    "note" TEXT,
    "entered" JSONB NOT NULL,
    "warnings" JSONB NOT NULL,
    "body_sha256" BYTEA NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,
    "voided_at" TIMESTAMPTZ(3),
    "voided_by" UUID,
    "void_reason" TEXT,

    CONSTRAINT "batch_check_pk" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "check_reading" (
    "check_id" UUID NOT NULL,
    "line" INTEGER NOT NULL,
    "position" TEXT NOT NULL,
    "depth_mm" INTEGER,
    "temperature_deci_c" INTEGER NOT NULL,
    "instrument_id" UUID,

    CONSTRAINT "check_reading_pk" PRIMARY KEY ("check_id","line")
);

-- CreateTable
CREATE TABLE "turn" (
    "id" UUID NOT NULL,
    "batch_id" UUID NOT NULL,
    "occurred_at" TIMESTAMPTZ(3) NOT NULL,
    "note" TEXT,
    "body_sha256" BYTEA NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,
    "voided_at" TIMESTAMPTZ(3),
    "voided_by" UUID,
    "void_reason" TEXT,

    CONSTRAINT "turn_pk" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "watering" (
    "id" UUID NOT NULL,
    "batch_id" UUID NOT NULL,
    "occurred_at" TIMESTAMPTZ(3) NOT NULL,
    "volume_ml" BIGINT,
    "entered" JSONB NOT NULL,
    "note" TEXT,
    "body_sha256" BYTEA NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,
    "voided_at" TIMESTAMPTZ(3),
    "voided_by" UUID,
    "void_reason" TEXT,

    CONSTRAINT "watering_pk" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "person" (
    "id" UUID NOT NULL,
    "email" TEXT NOT NULL,
    "display_name" TEXT NOT NULL,
    "password_hash" TEXT NOT NULL,
    "disabled_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "person_pk" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "role_grant" (
    "id" UUID NOT NULL,
    "person_id" UUID NOT NULL,
    "role" TEXT NOT NULL,
    "site_id" UUID,
    "jurisdiction_id" UUID,

    CONSTRAINT "role_grant_pk" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "session" (
    "id" UUID NOT NULL,
    "person_id" UUID NOT NULL,
    "token_hash" BYTEA NOT NULL,
    "user_agent" TEXT,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "revoked_at" TIMESTAMPTZ(3),

    CONSTRAINT "session_pk" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "audit_event" (
    "seq" BIGSERIAL NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "person_id" UUID,
    "action" TEXT NOT NULL,
    "subject_kind" TEXT NOT NULL,
    "subject_id" TEXT,
    "site_id" UUID,
    "detail" JSONB NOT NULL,

    CONSTRAINT "audit_event_pk" PRIMARY KEY ("seq")
);

-- CreateTable
CREATE TABLE "audit_seal" (
    "number" INTEGER NOT NULL,
    "from_seq" BIGINT NOT NULL,
    "to_seq" BIGINT NOT NULL,
    "events" INTEGER NOT NULL,
    "seal" TEXT NOT NULL,
    "sealed_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "audit_seal_pk" PRIMARY KEY ("number")
);

-- CreateTable
CREATE TABLE "import" (
    "id" UUID NOT NULL,
    "site_id" UUID,
    "kind" TEXT NOT NULL,
    "file_name" TEXT NOT NULL,
    "file_sha256" BYTEA NOT NULL,
    "settings" JSONB NOT NULL,
    "report" JSONB NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,

    CONSTRAINT "import_pk" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "sample" (
    "id" UUID NOT NULL,
    "batch_id" UUID NOT NULL,
    "occurred_at" TIMESTAMPTZ(3) NOT NULL,
    "kind" TEXT NOT NULL,
    "value" DECIMAL(14,4),
    "unit" TEXT,
    "finding" TEXT,
    "outcome" TEXT NOT NULL,
    "laboratory" TEXT,
    "reference" TEXT,
    "mass_g" INTEGER NOT NULL DEFAULT 0,
    "entered" JSONB NOT NULL,
    "body_sha256" BYTEA NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,
    "voided_at" TIMESTAMPTZ(3),
    "voided_by" UUID,
    "void_reason" TEXT,

    CONSTRAINT "sample_pk" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "screening" (
    "id" UUID NOT NULL,
    "batch_id" UUID NOT NULL,
    "occurred_at" TIMESTAMPTZ(3) NOT NULL,
    "compost_g" INTEGER NOT NULL,
    "compost_volume_ml" BIGINT,
    "overs_g" INTEGER NOT NULL,
    "residue_g" INTEGER NOT NULL,
    "residue_went_to" TEXT,
    "entered" JSONB NOT NULL,
    "note" TEXT,
    "body_sha256" BYTEA NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,
    "voided_at" TIMESTAMPTZ(3),
    "voided_by" UUID,
    "void_reason" TEXT,

    CONSTRAINT "screening_pk" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "release" (
    "batch_id" UUID NOT NULL,
    "signed_by" UUID NOT NULL,
    "signed_name" TEXT NOT NULL,
    "signed_at" TIMESTAMPTZ(3) NOT NULL,
    "statement" TEXT NOT NULL,
    "gates" JSONB NOT NULL,
    "seal" TEXT NOT NULL,

    CONSTRAINT "release_pk" PRIMARY KEY ("batch_id")
);

-- CreateTable
CREATE TABLE "distribution" (
    "id" UUID NOT NULL,
    "batch_id" UUID NOT NULL,
    "occurred_at" TIMESTAMPTZ(3) NOT NULL,
    "recipient" TEXT NOT NULL,
    "use" TEXT NOT NULL,
    "mass_g" INTEGER NOT NULL,
    "volume_ml" BIGINT,
    "basis" TEXT NOT NULL,
    "entered" JSONB NOT NULL,
    "note" TEXT,
    "body_sha256" BYTEA NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,
    "voided_at" TIMESTAMPTZ(3),
    "voided_by" UUID,
    "void_reason" TEXT,

    CONSTRAINT "distribution_pk" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "sealed_document" (
    "seal" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "subject_id" UUID NOT NULL,
    "version" INTEGER NOT NULL,
    "document" TEXT NOT NULL,
    "sealed_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "sealed_by" UUID NOT NULL,

    CONSTRAINT "sealed_document_pk" PRIMARY KEY ("seal")
);

-- CreateTable
CREATE TABLE "jurisdiction" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "reporting_year_start" TEXT NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "jurisdiction_pk" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "site" (
    "id" UUID NOT NULL,
    "code" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "takes_drop_offs" BOOLEAN NOT NULL,
    "runs_batches" BOOLEAN NOT NULL,
    "time_zone" TEXT NOT NULL,
    "jurisdiction_id" UUID NOT NULL,
    "opened_on" DATE,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "site_pk" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "bay" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "code" TEXT NOT NULL,
    "position" INTEGER NOT NULL,
    "capacity_ml" BIGINT,
    "entered" JSONB NOT NULL DEFAULT '{}',

    CONSTRAINT "bay_pk" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "permit" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "reference" TEXT NOT NULL,
    "valid_from" DATE NOT NULL,
    "valid_to" DATE,
    "process_rule" TEXT,
    "process_reading" TEXT,
    "minimum_probes" INTEGER,
    "longest_gap_hours" INTEGER,
    "cure_days" INTEGER,
    "cure_reheat_deci_c" INTEGER,
    "stored_volume_max_ml" BIGINT,
    "yearly_mass_max_g" BIGINT,
    "required_samples" TEXT[],
    "entered" JSONB NOT NULL DEFAULT '{}',
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "permit_pk" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "permit_material" (
    "permit_id" UUID NOT NULL,
    "material_code" TEXT NOT NULL,

    CONSTRAINT "permit_material_pk" PRIMARY KEY ("permit_id","material_code")
);

-- CreateTable
CREATE TABLE "material" (
    "code" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "class" TEXT NOT NULL,
    "nitrogen_percent_dry" DECIMAL(6,3),
    "carbon_to_nitrogen" DECIMAL(8,2),
    "moisture_percent" DECIMAL(5,2),
    "bulk_density_kg_m3" DECIMAL(7,1),
    "source" TEXT NOT NULL,
    "verification" TEXT NOT NULL,
    "caution" TEXT,
    "retired_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "material_pk" PRIMARY KEY ("code")
);

-- CreateTable
CREATE TABLE "container" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "code" TEXT NOT NULL,
    "tare_g" INTEGER NOT NULL,
    "volume_ml" BIGINT,
    "entered" JSONB NOT NULL DEFAULT '{}',
    "retired_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "container_pk" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "instrument" (
    "id" UUID NOT NULL,
    "site_id" UUID NOT NULL,
    "code" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "division_g" DECIMAL(12,5),
    "resolution_deci_c" INTEGER,
    "verify_every_days" INTEGER,
    "entered" JSONB NOT NULL DEFAULT '{}',
    "retired_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "instrument_pk" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "instrument_verification" (
    "id" UUID NOT NULL,
    "instrument_id" UUID NOT NULL,
    "occurred_at" TIMESTAMPTZ(3) NOT NULL,
    "passed" BOOLEAN NOT NULL,
    "reference" TEXT NOT NULL,
    "note" TEXT,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "recorded_by" UUID NOT NULL,

    CONSTRAINT "instrument_verification_pk" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "batch_code_unique" ON "batch"("site_id", "code");

-- CreateIndex
CREATE INDEX "bay_stay_batch" ON "bay_stay"("batch_id");

-- CreateIndex
CREATE INDEX "assignment_by_batch" ON "assignment"("batch_id");

-- CreateIndex
CREATE INDEX "assignment_by_drop_off" ON "assignment"("drop_off_id");

-- CreateIndex
CREATE INDEX "amendment_by_batch" ON "amendment"("batch_id");

-- CreateIndex
CREATE INDEX "amendment_by_from_batch" ON "amendment"("from_batch_id");

-- CreateIndex
CREATE INDEX "shift_by_site" ON "shift"("site_id", "opened_at");

-- CreateIndex
CREATE INDEX "drop_off_by_shift" ON "drop_off"("shift_id");

-- CreateIndex
CREATE UNIQUE INDEX "drop_off_with_site" ON "drop_off"("id", "site_id");

-- CreateIndex
CREATE UNIQUE INDEX "drop_off_import_key_unique" ON "drop_off"("site_id", "import_key");

-- CreateIndex
CREATE INDEX "refusal_by_site" ON "refusal"("site_id", "occurred_at");

-- CreateIndex
CREATE INDEX "batch_check_by_time" ON "batch_check"("batch_id", "occurred_at");

-- CreateIndex
CREATE INDEX "turn_by_time" ON "turn"("batch_id", "occurred_at");

-- CreateIndex
CREATE INDEX "watering_by_time" ON "watering"("batch_id", "occurred_at");

-- CreateIndex
CREATE UNIQUE INDEX "person_email_unique" ON "person"("email");

-- CreateIndex
CREATE INDEX "role_grant_person" ON "role_grant"("person_id");

-- CreateIndex
CREATE UNIQUE INDEX "role_grant_unique" ON "role_grant"("person_id", "role", "site_id", "jurisdiction_id");

-- CreateIndex
CREATE UNIQUE INDEX "session_token_hash_unique" ON "session"("token_hash");

-- CreateIndex
CREATE INDEX "session_person" ON "session"("person_id");

-- CreateIndex
CREATE INDEX "audit_event_by_subject" ON "audit_event"("subject_id");

-- CreateIndex
CREATE INDEX "audit_event_by_site" ON "audit_event"("site_id", "seq");

-- CreateIndex
CREATE INDEX "sample_by_batch" ON "sample"("batch_id");

-- CreateIndex
CREATE INDEX "screening_by_batch" ON "screening"("batch_id");

-- CreateIndex
CREATE INDEX "distribution_by_batch" ON "distribution"("batch_id");

-- CreateIndex
CREATE UNIQUE INDEX "sealed_document_version_unique" ON "sealed_document"("kind", "subject_id", "version");

-- CreateIndex
CREATE UNIQUE INDEX "jurisdiction_name_unique" ON "jurisdiction"("name");

-- CreateIndex
CREATE UNIQUE INDEX "site_code_unique" ON "site"("code");

-- CreateIndex
CREATE UNIQUE INDEX "bay_code_unique" ON "bay"("site_id", "code");

-- CreateIndex
CREATE UNIQUE INDEX "permit_reference_unique" ON "permit"("site_id", "reference");

-- CreateIndex
CREATE UNIQUE INDEX "container_code_unique" ON "container"("site_id", "code");

-- CreateIndex
CREATE UNIQUE INDEX "instrument_code_unique" ON "instrument"("site_id", "code");

-- CreateIndex
CREATE INDEX "instrument_verification_by_time" ON "instrument_verification"("instrument_id", "occurred_at");

-- AddForeignKey
ALTER TABLE "batch" ADD CONSTRAINT "batch_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "batch" ADD CONSTRAINT "batch_site_fk" FOREIGN KEY ("site_id") REFERENCES "site"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "batch_stage" ADD CONSTRAINT "batch_stage_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "batch_stage" ADD CONSTRAINT "batch_stage_batch_fk" FOREIGN KEY ("batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "bay_stay" ADD CONSTRAINT "bay_stay_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "bay_stay" ADD CONSTRAINT "bay_stay_batch_fk" FOREIGN KEY ("batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "bay_stay" ADD CONSTRAINT "bay_stay_bay_fk" FOREIGN KEY ("bay_id") REFERENCES "bay"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "assignment" ADD CONSTRAINT "assignment_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "assignment" ADD CONSTRAINT "assignment_batch_fk" FOREIGN KEY ("batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "assignment" ADD CONSTRAINT "assignment_drop_off_fk" FOREIGN KEY ("drop_off_id") REFERENCES "drop_off"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "amendment" ADD CONSTRAINT "amendment_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "amendment" ADD CONSTRAINT "amendment_batch_fk" FOREIGN KEY ("batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "amendment" ADD CONSTRAINT "amendment_from_batch_fk" FOREIGN KEY ("from_batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "amendment" ADD CONSTRAINT "amendment_material_fk" FOREIGN KEY ("material_code") REFERENCES "material"("code") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "shift" ADD CONSTRAINT "shift_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "shift" ADD CONSTRAINT "shift_site_fk" FOREIGN KEY ("site_id") REFERENCES "site"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "shift" ADD CONSTRAINT "shift_instrument_fk" FOREIGN KEY ("instrument_id") REFERENCES "instrument"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "drop_off" ADD CONSTRAINT "drop_off_site_fk" FOREIGN KEY ("site_id") REFERENCES "site"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "drop_off" ADD CONSTRAINT "drop_off_shift_fk" FOREIGN KEY ("shift_id") REFERENCES "shift"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "drop_off" ADD CONSTRAINT "drop_off_import_fk" FOREIGN KEY ("import_id") REFERENCES "import"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "drop_off_revision" ADD CONSTRAINT "drop_off_revision_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "drop_off_revision" ADD CONSTRAINT "drop_off_revision_drop_off_fk" FOREIGN KEY ("drop_off_id", "site_id") REFERENCES "drop_off"("id", "site_id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "drop_off_revision" ADD CONSTRAINT "drop_off_revision_material_fk" FOREIGN KEY ("material_code") REFERENCES "material"("code") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "drop_off_revision" ADD CONSTRAINT "drop_off_revision_jurisdiction_fk" FOREIGN KEY ("jurisdiction_id") REFERENCES "jurisdiction"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "drop_off_revision" ADD CONSTRAINT "drop_off_revision_container_fk" FOREIGN KEY ("container_id") REFERENCES "container"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "drop_off_revision" ADD CONSTRAINT "drop_off_revision_instrument_fk" FOREIGN KEY ("instrument_id") REFERENCES "instrument"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "drop_off_reject" ADD CONSTRAINT "drop_off_reject_revision_fk" FOREIGN KEY ("drop_off_id", "revision") REFERENCES "drop_off_revision"("drop_off_id", "revision") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "refusal" ADD CONSTRAINT "refusal_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "refusal" ADD CONSTRAINT "refusal_site_fk" FOREIGN KEY ("site_id") REFERENCES "site"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "refusal" ADD CONSTRAINT "refusal_shift_fk" FOREIGN KEY ("shift_id") REFERENCES "shift"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "refusal" ADD CONSTRAINT "refusal_material_fk" FOREIGN KEY ("material_code") REFERENCES "material"("code") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "batch_check" ADD CONSTRAINT "batch_check_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "batch_check" ADD CONSTRAINT "batch_check_batch_fk" FOREIGN KEY ("batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "check_reading" ADD CONSTRAINT "check_reading_check_fk" FOREIGN KEY ("check_id") REFERENCES "batch_check"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "check_reading" ADD CONSTRAINT "check_reading_instrument_fk" FOREIGN KEY ("instrument_id") REFERENCES "instrument"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "turn" ADD CONSTRAINT "turn_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "turn" ADD CONSTRAINT "turn_batch_fk" FOREIGN KEY ("batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "watering" ADD CONSTRAINT "watering_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "watering" ADD CONSTRAINT "watering_batch_fk" FOREIGN KEY ("batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "role_grant" ADD CONSTRAINT "role_grant_person_fk" FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE CASCADE ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "role_grant" ADD CONSTRAINT "role_grant_site_fk" FOREIGN KEY ("site_id") REFERENCES "site"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "role_grant" ADD CONSTRAINT "role_grant_jurisdiction_fk" FOREIGN KEY ("jurisdiction_id") REFERENCES "jurisdiction"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "session" ADD CONSTRAINT "session_person_fk" FOREIGN KEY ("person_id") REFERENCES "person"("id") ON DELETE CASCADE ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "import" ADD CONSTRAINT "import_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "import" ADD CONSTRAINT "import_site_fk" FOREIGN KEY ("site_id") REFERENCES "site"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "sample" ADD CONSTRAINT "sample_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "sample" ADD CONSTRAINT "sample_batch_fk" FOREIGN KEY ("batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "screening" ADD CONSTRAINT "screening_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "screening" ADD CONSTRAINT "screening_batch_fk" FOREIGN KEY ("batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "release" ADD CONSTRAINT "release_batch_fk" FOREIGN KEY ("batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "release" ADD CONSTRAINT "release_document_fk" FOREIGN KEY ("seal") REFERENCES "sealed_document"("seal") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "distribution" ADD CONSTRAINT "distribution_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "distribution" ADD CONSTRAINT "distribution_batch_fk" FOREIGN KEY ("batch_id") REFERENCES "batch"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "site" ADD CONSTRAINT "site_jurisdiction_fk" FOREIGN KEY ("jurisdiction_id") REFERENCES "jurisdiction"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "bay" ADD CONSTRAINT "bay_site_fk" FOREIGN KEY ("site_id") REFERENCES "site"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "permit" ADD CONSTRAINT "permit_site_fk" FOREIGN KEY ("site_id") REFERENCES "site"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "permit_material" ADD CONSTRAINT "permit_material_permit_fk" FOREIGN KEY ("permit_id") REFERENCES "permit"("id") ON DELETE CASCADE ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "permit_material" ADD CONSTRAINT "permit_material_material_fk" FOREIGN KEY ("material_code") REFERENCES "material"("code") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "container" ADD CONSTRAINT "container_site_fk" FOREIGN KEY ("site_id") REFERENCES "site"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "instrument" ADD CONSTRAINT "instrument_site_fk" FOREIGN KEY ("site_id") REFERENCES "site"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "instrument_verification" ADD CONSTRAINT "instrument_verification_recorded_by_fk" FOREIGN KEY ("recorded_by") REFERENCES "person"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "instrument_verification" ADD CONSTRAINT "instrument_verification_instrument_fk" FOREIGN KEY ("instrument_id") REFERENCES "instrument"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
