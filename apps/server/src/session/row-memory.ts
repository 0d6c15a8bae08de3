import type { Rows } from '@blockbell/contract';

/** What boards were told last, so that a row goes out only when it reads differently. */
export class RowMemory {
  private readonly told = new Map<string, string>();

  constructor(all: Rows) {
    this.keepNews(all);
  }

  /** The rows of `rows` that differ from what was told; they count as told from now on. */
  keepNews(rows: Rows): Rows {
    const news: Rows = {};
    if (rows.session !== undefined && this.isNews('session', rows.session))
      news.session = rows.session;
    if (rows.lineUp !== undefined && this.isNews('lineUp', rows.lineUp)) news.lineUp = rows.lineUp;
    if (rows.strangers !== undefined && this.isNews('strangers', rows.strangers))
      news.strangers = rows.strangers;
    const sections = this.newsOf('section', rows.sections, (row) => row.section);
    if (sections.length > 0) news.sections = sections;
    const elements = this.newsOf('element', rows.elements, (row) => row.element);
    if (elements.length > 0) news.elements = elements;
    const signals = this.newsOf('signal', rows.signals, (row) => row.heading);
    if (signals.length > 0) news.signals = signals;
    const trains = this.newsOf('train', rows.trains, (row) => row.train);
    if (trains.length > 0) news.trains = trains;
    const runs = this.newsOf('run', rows.runs, (row) => row.train);
    if (runs.length > 0) news.runs = runs;
    const alarms = this.newsOf('alarm', rows.alarms, (row) => row.id);
    if (alarms.length > 0) news.alarms = alarms;
    if (rows.log !== undefined && rows.log.length > 0) news.log = rows.log;
    return news;
  }

  private newsOf<Row>(
    kind: string,
    rows: readonly Row[] | undefined,
    keyOf: (row: Row) => number,
  ): Row[] {
    return (rows ?? []).filter((row) => this.isNews(`${kind} ${keyOf(row)}`, row));
  }

  private isNews(key: string, row: unknown): boolean {
    const text = JSON.stringify(row);
    if (this.told.get(key) === text) return false;
    this.told.set(key, text);
    return true;
  }
}
