// A whole session as a digest: run with the name of an example and a seed it prints it, so that processes can be compared.
import { createHash } from 'node:crypto';
import { fileURLToPath } from 'node:url';
import { exampleFiles } from '@blockbell/examples';
import { runSession } from '@blockbell/rehearsal';

/**
 * The report of a rehearsal of an example, and a hash over every input and every effect of every step in order.
 * @param {'demo' | 'passing-loop'} example
 * @param {number} seed
 * @returns {string} JSON
 */
export function sessionDigest(example, seed) {
  const { layout, stock, timetable } = exampleFiles(example);
  const files = {
    layout: JSON.parse(layout),
    stock: JSON.parse(stock),
    timetable: JSON.parse(timetable),
  };
  const hash = createHash('sha256');
  const session = runSession({ ...files, seed }, (_, input, { effects }) => {
    hash.update(JSON.stringify([input, effects]));
  });
  for (;;) {
    const { done, value } = session.next();
    if (done) return JSON.stringify({ report: value, steps: hash.digest('hex') });
  }
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [example, seed] = process.argv.slice(2);
  console.log(sessionDigest(example, Number(seed)));
}
