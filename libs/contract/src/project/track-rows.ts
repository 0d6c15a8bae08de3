import { isForWork, type EngineState } from '@blockbell/railway';
import type { ElementView, SectionView, SignalView } from '../messages/views.js';

export function sectionRow(state: EngineState, section: number): SectionView {
  const { belief, claim, unidentified, clearByHand } = state.sections[section]!;
  return { section, belief, claim, unidentified, clearByHand };
}

export function elementRow(state: EngineState, element: number): ElementView {
  const { position, proof, holder, possession } = state.elements[element]!;
  return { element, position, proof, holder, possession, forWork: isForWork(state, element) };
}

/** Null for a heading that has no signal. */
export function signalRow(state: EngineState, heading: number): SignalView | null {
  const aspect = state.signals[heading];
  return aspect === null || aspect === undefined ? null : { heading, aspect };
}
