-- Of what lot a movement is, where that was dropped off, and by what kind of depositor: what is told by hub and by depositor
-- is then summed from the movements alone. The rest of the view is as it was, but for what indexes need to know: a lot
-- of which nothing was pulled is not looked for among the rejects, and a lot in a batch is not voided.

CREATE OR REPLACE VIEW mass_flow AS
  SELECT 'drop-off'::text AS kind, r.drop_off_id AS source_id, ''::text AS part, r.revision, r.occurred_at, r.site_id,
         r.jurisdiction_id, r.material_code, r.basis,
         'origin'::text AS from_place, r.jurisdiction_id AS from_id, 'site'::text AS to_place, r.site_id AS to_id,
         r.net_g::bigint AS mass_g,
         r.drop_off_id AS lot_id, r.site_id AS lot_site_id, r.depositor
    FROM drop_off_revision r WHERE r.superseded_by IS NULL AND NOT r.voided
  UNION ALL
  SELECT 'pulled', r.drop_off_id, x.line::text, r.revision, r.occurred_at, r.site_id, r.jurisdiction_id, r.material_code,
         r.basis, 'site', r.site_id, x.went_to, NULL::uuid, x.mass_g::bigint,
         r.drop_off_id, r.site_id, r.depositor
    FROM drop_off_revision r JOIN drop_off_reject x USING (drop_off_id, revision)
    WHERE r.superseded_by IS NULL AND NOT r.voided AND r.rejected_g > 0
  UNION ALL
  SELECT 'haul-out', h.id, l.drop_off_id::text, r.revision, h.occurred_at, h.site_id, r.jurisdiction_id, r.material_code,
         r.basis, 'site', h.site_id, 'road', h.id, r.accepted_g::bigint,
         r.drop_off_id, r.site_id, r.depositor
    FROM haul h JOIN haul_lot l ON l.haul_id = h.id
    JOIN drop_off_revision r ON r.drop_off_id = l.drop_off_id AND r.superseded_by IS NULL AND NOT r.voided
    WHERE h.voided_at IS NULL
  UNION ALL
  SELECT 'haul-in', p.id, l.drop_off_id::text, r.revision, p.occurred_at, h.to_site_id, r.jurisdiction_id,
         r.material_code, r.basis, 'road', h.id, 'site', h.to_site_id, r.accepted_g::bigint,
         r.drop_off_id, r.site_id, r.depositor
    FROM haul_receipt p JOIN haul h ON h.id = p.haul_id AND h.voided_at IS NULL JOIN haul_lot l ON l.haul_id = h.id
    JOIN drop_off_revision r ON r.drop_off_id = l.drop_off_id AND r.superseded_by IS NULL AND NOT r.voided
    WHERE p.voided_at IS NULL AND h.to_site_id IS NOT NULL
  UNION ALL
  -- What somebody else composts has arrived when it left.
  SELECT 'haul-elsewhere', h.id, l.drop_off_id::text, r.revision, h.occurred_at, h.site_id, r.jurisdiction_id,
         r.material_code, r.basis, 'road', h.id, 'other-composting', NULL::uuid, r.accepted_g::bigint,
         r.drop_off_id, r.site_id, r.depositor
    FROM haul h JOIN haul_lot l ON l.haul_id = h.id
    JOIN drop_off_revision r ON r.drop_off_id = l.drop_off_id AND r.superseded_by IS NULL AND NOT r.voided
    WHERE h.voided_at IS NULL AND h.to_site_id IS NULL
  UNION ALL
  SELECT 'assignment', a.id, '', r.revision, a.occurred_at, b.site_id, r.jurisdiction_id, r.material_code, r.basis,
         'site', coalesce((SELECT h.to_site_id FROM haul_lot l JOIN haul h ON h.id = l.haul_id AND h.voided_at IS NULL
                           WHERE l.drop_off_id = a.drop_off_id), r.site_id),
         'batch', a.batch_id, a.mass_g::bigint, r.drop_off_id, r.site_id, r.depositor
    FROM assignment a JOIN batch b ON b.id = a.batch_id
    JOIN drop_off_revision r ON r.drop_off_id = a.drop_off_id AND r.superseded_by IS NULL AND NOT r.voided
    WHERE a.voided_at IS NULL
  UNION ALL
  SELECT 'amendment', a.id, '', NULL::int, a.occurred_at, b.site_id, NULL::uuid, a.material_code, a.basis,
         CASE a.source WHEN 'overs' THEN 'overs' WHEN 'water' THEN 'tap' ELSE 'stock' END,
         CASE a.source WHEN 'overs' THEN a.from_batch_id WHEN 'water' THEN NULL ELSE b.site_id END,
         'batch', a.batch_id, a.mass_g::bigint, NULL, NULL, NULL
    FROM amendment a JOIN batch b ON b.id = a.batch_id WHERE a.voided_at IS NULL
  UNION ALL
  -- One millilitre of water is taken as one gram.
  SELECT 'watering', w.id, '', NULL, w.occurred_at, b.site_id, NULL, 'water', 'volume', 'tap', NULL, 'batch', w.batch_id,
         w.volume_ml, NULL, NULL, NULL
    FROM watering w JOIN batch b ON b.id = w.batch_id WHERE w.voided_at IS NULL AND w.volume_ml IS NOT NULL
  UNION ALL
  SELECT 'merge', m.id, '', NULL, m.occurred_at, b.site_id, NULL, 'batch', m.basis, 'batch', m.from_batch_id, 'batch',
         m.batch_id, m.mass_g::bigint, NULL, NULL, NULL
    FROM batch_merge m JOIN batch b ON b.id = m.batch_id
  UNION ALL
  SELECT 'screening', s.id, parts.part, NULL, s.occurred_at, b.site_id, NULL, parts.part, 'scale', 'batch', s.batch_id,
         parts.to_place, CASE WHEN parts.part = 'residue' THEN NULL ELSE s.batch_id END, parts.mass_g::bigint,
         NULL, NULL, NULL
    FROM screening s JOIN batch b ON b.id = s.batch_id
    CROSS JOIN LATERAL (VALUES ('compost', 'compost', s.compost_g), ('overs', 'overs', s.overs_g),
                               ('residue', s.residue_went_to, s.residue_g)) AS parts (part, to_place, mass_g)
    WHERE s.voided_at IS NULL AND parts.mass_g > 0
  UNION ALL
  SELECT 'sample', s.id, '', NULL, s.occurred_at, b.site_id, NULL, s.kind, 'scale', 'batch', s.batch_id, 'laboratory',
         NULL, s.mass_g::bigint, NULL, NULL, NULL
    FROM sample s JOIN batch b ON b.id = s.batch_id WHERE s.voided_at IS NULL AND s.mass_g > 0
  UNION ALL
  SELECT 'distribution', d.id, '', NULL, d.occurred_at, b.site_id, NULL, 'compost', d.basis, 'compost', d.batch_id,
         'recipient', d.id, d.mass_g::bigint, NULL, NULL, NULL
    FROM distribution d JOIN batch b ON b.id = d.batch_id WHERE d.voided_at IS NULL;

-- Few lots have anything pulled of them.
CREATE INDEX drop_off_revision_pulled ON drop_off_revision (jurisdiction_id, occurred_at)
  WHERE superseded_by IS NULL AND NOT voided AND rejected_g > 0;
