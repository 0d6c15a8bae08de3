/**
 * Breaks rules on purpose, one after the other, in a copy of the sources, and looks whether the tests named beside each notice.
 *
 *     npm run mutants [-- NAME… | --check]
 *
 * A mutant is a patch in `tests/mutants`. What stands above its first `diff` says in words what it breaks (`Breaks:`) and which
 * test must notice, as arguments of vitest (`Caught by:`). Exit code 1 when a mutant survives or a patch does not apply.
 */
import { cleanMutants, mutants, runMutant } from './mutant-run.mjs';

const [first] = process.argv.slice(2);
const chosen = mutants().filter(
  ({ name }) => process.argv.length === 2 || first === '--check' || process.argv.includes(name),
);
if (chosen.length === 0) throw new Error('no such mutant');
let missed = 0;
try {
  for (const mutant of chosen) {
    const { verdict, by } = await runMutant(mutant, first === '--check');
    if (verdict !== 'caught' && verdict !== 'applies') missed++;
    console.log(`${mutant.name}: ${verdict}${by === null ? '' : `: ${by}`}`);
  }
} finally {
  cleanMutants();
}
console.log(
  `${chosen.length - missed} of ${chosen.length} ${first === '--check' ? 'apply' : 'caught'}.`,
);
process.exitCode = missed > 0 ? 1 : 0;
