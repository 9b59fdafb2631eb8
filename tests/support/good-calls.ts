/** A call that is answered with 200, 201 or 204 as it stands: whatever is put wrong in it is its only fault. */
export interface GoodCall {
  /** As the routes are named, "POST /drop-offs/:id/void". */
  route: string;
  /** Parameters of the path, by their names. */
  params: Record<string, string>;
  /** Token of somebody who may; none where the route is public. */
  as?: string;
  body?: Record<string, unknown>;
  query?: Record<string, string>;
  headers?: Record<string, string>;
  /** Pointers of what goes with other fields, or without them: put wrong, it is told at those. */
  toldElsewhere?: string[];
  /** Pointers of times that are judged item by item where they have their form: refused in an answer, not as one. */
  judgedByItem?: string[];
}

type Params = Record<string, string>;
type Body = Record<string, unknown>;

/** Calls of one person. */
export const of = (as: string) => ({
  get: (path: string, params: Params = {}): GoodCall => ({ route: `GET ${path}`, params, as }),
  delete: (path: string, params: Params = {}): GoodCall => ({ route: `DELETE ${path}`, params, as }),
  post: (path: string, params: Params, body: Body): GoodCall => ({ route: `POST ${path}`, params, as, body }),
  /** Of a setting that nobody changed yet. */
  patch: (path: string, params: Params, body: Body): GoodCall => ({
    ...{ route: `PATCH ${path}`, params, as, body },
    headers: { 'if-match': '"1"' },
  }),
});
