/**
 * Every refusal this API can give, in one place: code → HTTP status and title. A code that is retired stays here
 * as a comment and is never used again.
 */
export const problems = {
  'malformed-json': [400, 'The body is not JSON'],
  'bad-request': [400, 'The request cannot be read'],
  'not-signed-in': [401, 'Sign in first'],
  'wrong-credentials': [401, 'E-mail or password is wrong'],
  'wrong-password': [403, 'The password is wrong'],
  'not-allowed': [403, 'Your role does not allow this'],
  'other-site': [403, 'Your role does not reach this site'],
  'other-jurisdiction': [403, 'Your role does not reach this jurisdiction'],
  'not-found': [404, 'There is no such thing here'],
  'method-not-allowed': [405, 'That verb is not known here'],
  'other-body': [409, 'This id was sent before with another body'],
  taken: [409, 'That name or code is taken'],
  conflict: [409, 'It does not fit with what is recorded'],
  'record-kept': [409, 'Records are kept: make a correction or a void instead'],
  'drop-off-voided': [409, 'The drop-off is voided'],
  'assigned-already': [409, 'More of the drop-off is in batches than would be left'],
  'beyond-what-is-left': [409, 'The drop-off has less left than that'],
  'drop-off-not-here': [409, 'The drop-off is not where it would have to be'],
  'haul-received': [409, 'The haul was received already'],
  'overs-beyond-what-is-left': [409, 'That batch has fewer overs left than that'],
  'not-building': [409, 'The batch is not being built any more'],
  'stage-closed': [409, 'The stage of the batch does not allow this'],
  'stage-order': [409, 'A batch does not go from that stage to this'],
  'batch-released': [409, 'The batch is released: its record is sealed'],
  'batch-on-hold': [409, 'The batch is on hold'],
  'bay-occupied': [409, 'Another batch is in that bay'],
  'bay-claimed': [409, 'Another device tells of that bay'],
  'shift-open': [409, 'A shift is open at this site already'],
  'shift-closed': [409, 'The shift is closed'],
  'permit-overlap': [409, 'Another permit of the site is valid in that period'],
  'gates-unmet': [409, 'Gates are unmet and not overridden'],
  'balance-exceeded': [409, 'More would come out of the batch than went in'],
  'report-issued': [409, 'A report of that period was issued already'],
  'nothing-changed': [409, 'Nothing changed since the last version was issued'],
  'changed-meanwhile': [412, 'Somebody changed it meanwhile: read it again'],
  'too-large': [413, 'The body is too large'],
  'wrong-content-type': [415, 'That content type is not taken here'],
  invalid: [422, 'Something in it cannot be accepted'],
  'condition-missing': [428, 'Send If-Match with the ETag you read'],
  'too-many': [429, 'Too many tries: wait a little'],
  broken: [500, 'Something went wrong here; nothing was kept'],
  busy: [503, 'The database is not to be reached right now; try again'],
} as const satisfies Record<string, readonly [status: number, title: string]>;

export type ProblemCode = keyof typeof problems;

/** What is wrong with one place of the body: `pointer` is a JSON Pointer (RFC 6901). */
export interface Fault {
  pointer: string;
  detail: string;
}

/** A refusal. Thrown anywhere below a controller; it becomes `application/problem+json` at the edge. */
export class Problem extends Error {
  readonly status: number;

  constructor(
    readonly code: ProblemCode,
    readonly detail?: string,
    readonly errors?: readonly Fault[],
  ) {
    super(detail ?? problems[code][1]);
    this.status = problems[code][0];
  }
}

/** Bad input at one place. */
export function invalid(pointer: string, detail: string): Problem {
  return new Problem('invalid', detail, [{ pointer, detail }]);
}

export function notFound(what: string): Problem {
  return new Problem('not-found', `There is no such ${what}.`);
}
