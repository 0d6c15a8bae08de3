import { signed } from '@blockbell/railway';
import type { RouteTrial, TrialReport } from '@blockbell/rehearsal';
import escape from 'escape-html';
import { useText } from './trial-text.js';

const STYLE = `
  body { font: 11pt/1.4 system-ui, sans-serif; margin: 2em auto; max-width: 60em; padding: 0 1em; color: #111; background: #fff; }
  h1 { font-size: 1.5em; margin: 0; }
  table { border-collapse: collapse; width: 100%; margin-top: 1.2em; }
  th, td { text-align: left; vertical-align: top; padding: 0.25em 0.6em 0.25em 0; border-bottom: 1px solid #bbb; }
  th { border-bottom: 2px solid #111; }
  td.number { text-align: right; white-space: nowrap; }
  tr.failed td:first-child { border-left: 4px solid #111; padding-left: 0.4em; font-weight: bold; }
  .tick { width: 4em; }
  td.tick { font-size: 1.3em; line-height: 1; }
  td:first-child { min-width: 13em; }
  td:nth-child(2) { white-space: nowrap; }
  small { display: block; color: #555; font-weight: normal; overflow-wrap: anywhere; }
  thead { display: table-header-group; }
  tr { break-inside: avoid; }
  @page { margin: 15mm; }
  @media print { body { margin: 0; max-width: none; } }
`;

const OUTCOMES: Readonly<Record<RouteTrial['outcome'], string>> = {
  passed: 'passed',
  failed: 'FAILED',
  'not-run': 'not run',
};

/** The report as a page of its own, for the screen and for paper, with a column to tick off beside the layout. */
export function trialPage(report: TrialReport): string {
  const { layout, seed, trials, passed, failed, notRun, coverage, whole } = report;
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>Route trial: ${escape(layout.name)}</title>
<style>${STYLE}</style>
</head>
<body>
<h1>Route trial: ${escape(layout.name)}</h1>
<p>Run in simulation, layout ${escape(layout.hash)}, seed ${seed}. ${passed} passed, ${failed} failed, ${notRun} not run${whole ? '' : '; broken off before the end'}.</p>
<ul>
<li>Turnouts and reversing sections: ${escape(useText(coverage.drives, 'position'))}</li>
<li>Sections: ${escape(useText(coverage.sections, 'section'))}</li>
<li>Signals: ${escape(useText(coverage.signals, 'signal'))}</li>
</ul>
<table>
<thead><tr><th>Route</th><th>Train</th><th>Outcome</th><th>Time, s</th><th>Short of mark, mm</th><th>Set and proven</th><th>Remarks</th><th class="tick">On the layout</th></tr></thead>
<tbody>
${trials.map(row).join('\n')}
</tbody>
</table>
</body>
</html>
`;
}

function row({
  route,
  name,
  train,
  outcome,
  fault,
  notes,
  took,
  short,
  drives,
}: RouteTrial): string {
  const set = drives.map(({ id, position }) => `${id} ${position}`).join(', ');
  const remarks = [fault?.text, fault?.mend, ...notes].filter((text) => typeof text === 'string');
  const cells = [
    `<td>${escape(name)}<small>${escape(route)}</small></td>`,
    `<td>${escape(train ?? '–')}</td>`,
    `<td>${OUTCOMES[outcome]}</td>`,
    `<td class="number">${took === null ? '–' : (took / 1000).toFixed(1)}</td>`,
    `<td class="number">${short === null ? '–' : signed(short)}</td>`,
    `<td>${escape(set)}</td>`,
    `<td>${escape(remarks.join(' '))}</td>`,
    '<td class="tick">☐</td>',
  ];
  return `<tr class="${outcome}">${cells.join('')}</tr>`;
}
