import type { TrainView } from '@blockbell/contract/messages';
import type { TrainFile } from '@blockbell/railway';

/** Why a train can't be turned round now, in words; null where it can. */
export function whyNoTurning(
  { activity }: Pick<TrainView, 'activity'>,
  label: string,
  file: Pick<TrainFile, 'canReverse'> | undefined,
): string | null {
  if (!file?.canReverse) return `${label} cannot run with its rear leading.`;
  return activity === 'standing' ? null : `${label} must stand first.`;
}
