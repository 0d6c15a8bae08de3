import type { EngineState } from '../../session/state.js';

/** Whether a service is not run any more. */
export const isCancelled = ({ state }: { readonly state: EngineState }, service: number): boolean =>
  state.dispatching.wishes.cancellations.some(({ services }) => services.includes(service));
