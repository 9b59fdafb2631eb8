-- The newest batches of the programme, page by page.
CREATE INDEX "batch_by_time" ON "batch"("occurred_at", "id");

-- As before, with the sum over a lot's assignments in the statement that asks for it: a function is called for each lot, at
-- 2.5 times the cost.
CREATE OR REPLACE VIEW drop_off_now AS
  SELECT r.drop_off_id, r.revision, r.site_id, r.occurred_at, r.material_code, r.jurisdiction_id, r.depositor, r.basis,
    r.gross_g, r.tare_g, r.net_g, r.rejected_g, r.accepted_g, r.volume_ml, r.density_kg_m3, r.density_source,
    r.container_id, r.instrument_id, r.note, r.entered, r.warnings, r.voided, r.reason, r.superseded_by, r.recorded_at,
    r.recorded_by, d.shift_id, d.import_id,
    (SELECT coalesce(sum(a.mass_g), 0)::bigint FROM assignment a
     WHERE a.drop_off_id = r.drop_off_id AND a.voided_at IS NULL) AS assigned_g
  FROM drop_off_revision r JOIN drop_off d ON d.id = r.drop_off_id
  WHERE r.superseded_by IS NULL;
