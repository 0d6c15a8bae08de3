import { ms, type DetectorTypeFile } from '@blockbell/railway/track';

/**
 * Detectors of the examples, with worst delays of the kind makers state. Their hold-off bridges a contact lost for 800 ms
 * together with the delays of its messages, and of messages that come 250 ms later than declared.
 */
export const READER: DetectorTypeFile = {
  id: 'reader',
  reportsIdentity: true,
  readsAtOnce: 4,
  worstDelay: { occupied: ms(80), free: ms(150), report: ms(600) },
  holdOff: ms(1200),
};

/** Reads a single decoder; a double-headed train is occupied but unreadable. */
export const SINGLE_READER: DetectorTypeFile = {
  id: 'single-reader',
  reportsIdentity: true,
  readsAtOnce: 1,
  worstDelay: { occupied: ms(120), free: ms(200), report: ms(900) },
  holdOff: ms(1200),
};

/** Sees that current flows, not whose. */
export const CURRENT_SENSOR: DetectorTypeFile = {
  id: 'current-sensor',
  reportsIdentity: false,
  readsAtOnce: 0,
  worstDelay: { occupied: ms(60), free: ms(120), report: ms(0) },
  holdOff: ms(1200),
};
