-- The measurements of piles that stand, with the moment from which each is no longer of what lies there: the batch was screened
-- then, or another was merged into it. Without such a moment it still is.
CREATE VIEW pile_measured AS
  SELECT m.id, m.batch_id, m.occurred_at, m.recorded_at, m.shape, m.volume_ml, m.density_kg_m3, m.mass_g,
    least(
      (SELECT min(s.occurred_at) FROM screening s
        WHERE s.batch_id = m.batch_id AND s.voided_at IS NULL AND s.occurred_at >= m.occurred_at),
      (SELECT min(g.occurred_at) FROM batch_merge g WHERE g.batch_id = m.batch_id AND g.occurred_at > m.occurred_at)
    ) AS outdated_at
  FROM pile_measurement m WHERE m.voided_at IS NULL;
