/** Why a train does not move on now. Each names what would end the wait. */
export type WaitReason =
  | { readonly kind: 'not-running' }
  | { readonly kind: 'not-confirmed' }
  | { readonly kind: 'finished' }
  /** Booked departure, on the fast clock. */
  | { readonly kind: 'booked'; readonly depart: number }
  | { readonly kind: 'dwell'; readonly until: number }
  | { readonly kind: 'connection'; readonly service: number; readonly until: number }
  | { readonly kind: 'departures-held' }
  | { readonly kind: 'held-by-person' }
  /** Its way was given back and is locked until it certainly stands. */
  | { readonly kind: 'given-back' }
  /** Its crew drives it and asks for no speed. */
  | { readonly kind: 'in-hand' }
  | { readonly kind: 'halted'; readonly why: string }
  | { readonly kind: 'identity' }
  | { readonly kind: 'element-held'; readonly element: number; readonly by: number }
  | { readonly kind: 'section-claimed'; readonly section: number; readonly by: number }
  | {
      readonly kind: 'section-occupied';
      readonly section: number;
      readonly belief: 'occupied' | 'unknown';
    }
  | { readonly kind: 'possession'; readonly element: number; readonly name: string }
  | { readonly kind: 'turnout-failed'; readonly element: number }
  | { readonly kind: 'turnout-moving'; readonly element: number }
  | { readonly kind: 'own-tail'; readonly element: number }
  /** Granting would leave no order in which every train still finishes. */
  | { readonly kind: 'would-lock' }
  | { readonly kind: 'searching' }
  | { readonly kind: 'search-exhausted' }
  | { readonly kind: 'gives-way'; readonly to: number }
  /** By the plan another train goes first over track that both need. */
  | { readonly kind: 'plan-order'; readonly to: number }
  /** A dispatcher wants another train to go first over track that both need. */
  | { readonly kind: 'order-given'; readonly to: number }
  /** The rules of the staging yard it comes to find no track: until then, or until a person chooses one. */
  | { readonly kind: 'yard-full'; readonly station: number; readonly until: number | null }
  /** By the rules of its staging yard it leaves when the place it goes to asks for a train, or at that time. */
  | { readonly kind: 'not-asked-for'; readonly station: number; readonly until: number }
  | { readonly kind: 'no-way' };
