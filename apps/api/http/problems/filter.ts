import { type ArgumentsHost, Catch, type ExceptionFilter, HttpException, Logger } from '@nestjs/common';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { refusalOf } from '#libs/database';
import { Problem, type ProblemCode, problems } from './catalogue.js';
import { problemOf } from './constraints.js';

export const PROBLEM_TYPE = 'application/problem+json';

export interface ProblemBody {
  type: string;
  title: string;
  status: number;
  detail?: string;
  instance?: string;
  errors?: readonly { pointer: string; detail: string }[];
}

export function problemBody(problem: Problem, instance?: string): ProblemBody {
  return {
    type: `urn:heapwright:problem:${problem.code}`,
    title: problems[problem.code][1],
    status: problem.status,
    ...(problem.detail ? { detail: problem.detail } : {}),
    ...(instance ? { instance } : {}),
    ...(problem.errors ? { errors: problem.errors } : {}),
  };
}

/** What Fastify and Nest refuse before a controller is reached. */
const byStatus: Record<number, ProblemCode> = {
  400: 'bad-request',
  401: 'not-signed-in',
  403: 'not-allowed',
  404: 'not-found',
  405: 'method-not-allowed',
  413: 'too-large',
  415: 'wrong-content-type',
  422: 'invalid',
  429: 'too-many',
};

const MALFORMED = new Set(['FST_ERR_CTP_INVALID_JSON_BODY', 'FST_ERR_CTP_EMPTY_JSON_BODY']);

/** Any error whatever, as one of the catalogue's. */
export function asProblem(error: unknown): Problem {
  if (error instanceof Problem) return error;
  const refusal = refusalOf(error);
  if (refusal) return problemOf(refusal);
  const thrown = error as { code?: unknown; statusCode?: unknown; message?: unknown };
  if (MALFORMED.has(String(thrown.code)) || error instanceof SyntaxError)
    return new Problem('malformed-json');
  const status = error instanceof HttpException ? error.getStatus() : thrown.statusCode;
  const code = typeof status === 'number' ? byStatus[status] : undefined;
  if (code === 'bad-request' && /JSON/.test(String(thrown.message))) return new Problem('malformed-json');
  if (code) return new Problem(code);
  const refused = typeof status === 'number' && status >= 400 && status < 500;
  return new Problem(refused ? 'bad-request' : 'broken');
}

@Catch()
export class ProblemFilter implements ExceptionFilter {
  private readonly log = new Logger('Problem');

  catch(error: unknown, host: ArgumentsHost): void {
    const http = host.switchToHttp();
    const problem = asProblem(error);
    if (problem.status === 500) this.log.error(error instanceof Error ? error.stack : String(error));
    sendProblem(problem, http.getRequest<FastifyRequest>(), http.getResponse<FastifyReply>());
  }
}

/** After how many seconds it may go better. */
const WAIT_S: Partial<Record<number, number>> = { 429: 10, 503: 2 };

function sendProblem(problem: Problem, request: FastifyRequest, reply: FastifyReply): void {
  const waitS = WAIT_S[problem.status];
  // Who counts tries has said already how long to wait.
  if (waitS !== undefined && !reply.hasHeader('retry-after')) void reply.header('retry-after', String(waitS));
  void reply
    .status(problem.status)
    .type(PROBLEM_TYPE)
    .send(JSON.stringify(problemBody(problem, request.url)));
}

/** What Fastify refuses before it looks for a route, such as an address that is no UTF-8. */
export function refuseEarly(error: Error, request: FastifyRequest, reply: FastifyReply): void {
  sendProblem(asProblem(error), request, reply);
}
