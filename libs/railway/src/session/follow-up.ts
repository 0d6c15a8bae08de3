/**
 * What one rule asks of another within the same step. Rules do not call each other across folders: they leave a follow-up, and
 * the step carries these out in the order in which they were asked for, before anything else happens.
 */
export type FollowUp =
  /** Authority, limits or the estimate of its place changed: tell the train its speed. */
  | { readonly kind: 'control'; readonly train: number }
  /** A drive its way relies on was proven: authority may reach further. */
  | { readonly kind: 'authority'; readonly train: number }
  /** A drive failed: give back what is held beyond authority and can't be proven. */
  | { readonly kind: 'give-back'; readonly train: number }
  /** It is proven standing: what was given back under its approach frees. */
  | { readonly kind: 'release-approach'; readonly train: number }
  /** It is proven standing: a doubt it is part of may be settled. */
  | { readonly kind: 'settle-doubt'; readonly train: number }
  /** It stands where its way ends: the overlap beyond frees. */
  | { readonly kind: 'free-overlap'; readonly train: number }
  /** Stop it for a fault; `mend` says what a person should do. */
  | { readonly kind: 'halt'; readonly train: number; readonly why: string; readonly mend: string }
  /** Stop every train; if one moves on even so, cut power. */
  | { readonly kind: 'stop-everything'; readonly why: string };
