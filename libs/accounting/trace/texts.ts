/** What every answer of a trace takes for granted, and what it is not. Said wherever its figures are. */
export const TRACE_ASSUMPTIONS: readonly string[] = [
  'Each batch is taken to be mixed evenly: whatever left it is taken to hold everything that went in, in the same proportions. Nobody measured that: one load may hold far more of it than another.',
  'Shares are by wet mass as it was put in, water not counted, and by weight where there was a scale, else by the estimate that is recorded. What was lost to the air is taken to be lost alike by all.',
  'Overs, and batches that were put into another, carry on the shares of the batch they came from. Overs are mostly coarse pieces, so woody material may be more in them than is told here.',
  'Parts are whole grams and make up the whole. "0 kg" of what is listed is less than half a gram by this arithmetic, not nothing.',
];
