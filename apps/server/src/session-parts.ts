/** What a running session of the server is made of, for programs that measure it. */
export type { DevicePort } from './devices/device-port.js';
export { DELTA_INTERVAL, REFRESH_INTERVAL } from './session/delta-stream.js';
export { SessionRecorder } from './recording/session-recorder.js';
export { journalLine } from './session/journal-line.js';
export { ServerAlarms } from './session/server-alarms.js';
export { SessionFeed } from './session/session-feed.js';
export { SessionLog } from './session/session-log.js';
export { SessionRunner } from './session/session-runner.js';
export { Journal } from './storage/journal.js';
export { openJournal } from './storage/open-journal.js';
export { checkTogether } from './files/check-files.js';
export { JournalFollower } from './follower/journal-follower.js';
export { DataFolder } from './storage/data-folder.js';
