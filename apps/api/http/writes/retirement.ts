/** The column of a change that retires a setting or brings it back; none where nothing of that changes. */
export function retirement(
  asked: boolean | undefined,
  before: boolean,
  nowMs: number,
): { retiredAt?: Date | null } {
  if (asked === undefined || asked === before) return {};
  return { retiredAt: asked ? new Date(nowMs) : null };
}
