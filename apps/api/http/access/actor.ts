export const roles = ['volunteer', 'operator', 'manager', 'coordinator', 'municipal-reader'] as const;
export type Role = (typeof roles)[number];

/** The roles that work at a site, each holding what the one before it may. */
const ladder = ['volunteer', 'operator', 'manager', 'coordinator'] as const satisfies readonly Role[];
export type SiteRole = (typeof ladder)[number];

export interface Grant {
  role: Role;
  siteId: string | null;
  jurisdictionId: string | null;
}

/** Who asks, and what they may. */
export class Actor {
  constructor(
    readonly personId: string,
    readonly displayName: string,
    readonly sessionId: string,
    readonly grants: readonly Grant[],
  ) {}

  get isCoordinator(): boolean {
    return this.grants.some((grant) => grant.role === 'coordinator');
  }

  /** True when some grant at this site reaches `role`. */
  mayAt(role: SiteRole, siteId: string): boolean {
    return this.grantsReaching(role).some((grant) => grant.siteId === null || grant.siteId === siteId);
  }

  mayAnywhere(role: SiteRole): boolean {
    return this.grantsReaching(role).length > 0;
  }

  /**
   * Sites at which `role` is reached, or the one asked for among them; null means every site. For filters in SQL:
   * `$1::uuid[] IS NULL OR …`.
   */
  sitesFor(role: SiteRole, asked?: string): string[] | null {
    if (asked !== undefined) {
      const id = asked.toLowerCase();
      return this.mayAt(role, id) ? [id] : [];
    }
    const reaching = this.grantsReaching(role);
    if (reaching.some((grant) => grant.siteId === null)) return null;
    return [...new Set(reaching.flatMap((grant) => grant.siteId ?? []))];
  }

  /** Jurisdictions whose issued reports may be read; null means every one. For filters in SQL, as `sitesFor`. */
  jurisdictionsRead(): string[] | null {
    if (this.isCoordinator) return null;
    const own = this.grants.filter(({ role }) => role === 'municipal-reader');
    return [...new Set(own.flatMap(({ jurisdictionId }) => jurisdictionId ?? []))];
  }

  private grantsReaching(role: SiteRole): Grant[] {
    const least = ladder.indexOf(role);
    return this.grants.filter((grant) => ladder.indexOf(grant.role as SiteRole) >= least);
  }
}
