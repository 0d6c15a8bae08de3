import type { CheckedFiles } from '@blockbell/contract';
import { EXIT } from '../exit-code.js';
import { counted, faultText } from '../fault-text.js';
import type { AddCommand } from '../run-cli.js';
import { checkedFiles } from '../session-files.js';

/** `blockbell check`: every fault of layout, stock, timetable and rules files in one go. */
export const addCheck: AddCommand = (program, terminal, done) => {
  program
    .command('check')
    .description('Find every fault in layout, stock and timetable files, and in staging rules.')
    .argument('[file...]', 'files to check together; the demo when none is named')
    .option('--json', 'print the faults as JSON')
    .action((paths: readonly string[], { json = false }: { readonly json?: boolean }) => {
      const checked = checkedFiles(paths);
      const { faults } = checked;
      if (json) terminal.out(JSON.stringify({ faults }, null, 2));
      else {
        for (const fault of faults) terminal.out(faultText(fault));
        terminal.err(
          faults.length > 0 ? `${counted(faults.length, 'fault')}.` : soundText(checked),
        );
      }
      done(faults.length > 0 ? EXIT.fault : EXIT.ok);
    });
};

/** What sound files hold, so that whoever checks them sees that the right ones were read. */
function soundText({ layout, stock, timetable, stagingRules }: CheckedFiles): string {
  const parts: string[] = [];
  if (layout) {
    const blocks = layout.elements.filter(({ kind }) => kind === 'block').length;
    parts.push(`${counted(blocks, 'block')}, ${counted(layout.sections.length, 'section')}`);
  }
  if (stock) parts.push(counted(stock.trains.length, 'train'));
  if (timetable) {
    const open = timetable.openServices.length;
    const also = open === 0 ? '' : ` and ${open} that name no train`;
    parts.push(`${counted(timetable.services.length, 'service')}${also}`);
  }
  if (stagingRules) parts.push(`rules of ${counted(stagingRules.yards.length, 'staging yard')}`);
  const isAlone = stagingRules !== undefined && !(layout && stock);
  const more = isAlone
    ? ' Name layout and stock too, so that the names in the rules are looked at.'
    : '';
  return `No fault: ${parts.join(', ')}.${more}`;
}
