import { parseClockText } from '../timetable/clock-text.js';
import type { Berth } from './berths.js';
import type { TrackCondition, TrainCondition } from './staging-rules-file.js';
import { buriedBy, buriers, trainsIn, type ComingTrain, type YardScene } from './yard-scene.js';

const MINUTE = 60_000;

/** What a train condition looks at. */
export type AskedTrain = Pick<ComingTrain, 'id' | 'class' | 'length' | 'depart' | 'berths'>;

/** Whether a condition holds of a train at a moment of the fast clock, ms since midnight. */
export function holdsOfTrain(condition: TrainCondition, train: AskedTrain, fast: number): boolean {
  switch (condition.is) {
    case 'class':
      return condition.of.includes(train.class);
    case 'train':
      return condition.of.some((id) => id === train.id);
    case 'longer':
      return train.length > condition.than;
    case 'shorter':
      return train.length < condition.than;
    case 'leaving':
      return train.depart - fast <= condition.within * MINUTE;
    case 'staying':
      return train.depart === Infinity;
    case 'turning':
      return train.berths.length > 0 && train.berths.every((it) => it.in === it.out);
    case 'between':
      return (
        fast >= (parseClockText(condition.from) ?? 0) &&
        fast < (parseClockText(condition.until) ?? 0)
      );
    case 'all':
      return condition.of.every((it) => holdsOfTrain(it, train, fast));
    case 'any':
      return condition.of.some((it) => holdsOfTrain(it, train, fast));
    case 'not':
      return !holdsOfTrain(condition.of, train, fast);
  }
}

/** Whether a condition holds of the track that a berth is in. */
export function holdsOfTrack(
  condition: TrackCondition,
  scene: YardScene,
  train: ComingTrain,
  berth: Berth,
): boolean {
  const track = scene.tracks[berth.track]!;
  switch (condition.is) {
    case 'track':
      return condition.of.includes(track.id);
    case 'empty':
      return track.slots.every((it) => it === null);
    case 'longer':
      return track.length > condition.than;
    case 'shorter':
      return track.length < condition.than;
    case 'burying-nobody':
      return buriedBy(track, train, berth).length === 0;
    case 'not-buried':
      return buriers(track, train, berth).length === 0;
    case 'same-class':
      return trainsIn(track).every((it) => it.class === train.class);
    case 'keeping-free':
      return emptyBeside(scene, berth.track) >= condition.tracks;
    case 'all':
      return condition.of.every((it) => holdsOfTrack(it, scene, train, berth));
    case 'any':
      return condition.of.some((it) => holdsOfTrack(it, scene, train, berth));
    case 'not':
      return !holdsOfTrack(condition.of, scene, train, berth);
  }
}

const emptyBeside = ({ tracks }: YardScene, but: number): number =>
  tracks.filter(({ slots }, index) => index !== but && slots.every((it) => it === null)).length;
