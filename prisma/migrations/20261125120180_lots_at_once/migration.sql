-- Of a table that was empty when it was analysed the planner takes it that reading it whole is cheapest, and keeps to that
-- while one statement fills it: of twenty thousand lots each then reads all that went before it. These look up one lot each,
-- for which there are indexes.
ALTER FUNCTION assignment_fits() SET enable_seqscan = off;
ALTER FUNCTION haul_lot_fits() SET enable_seqscan = off;
