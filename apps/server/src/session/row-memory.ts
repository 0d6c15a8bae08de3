import type { ChangedRows, Rows, TrainChange, TrainView } from '@blockbell/contract';

/** What boards were told last, so that only what reads differently goes out. */
export class RowMemory {
  private readonly told = new Map<string, string>();

  constructor(all: Rows) {
    this.keepNews(all);
  }

  /** What of `rows` differs from what was told; it counts as told from now on. */
  keepNews(rows: Rows): ChangedRows {
    const news: ChangedRows = {};
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
    const trains = (rows.trains ?? []).flatMap((row) => this.changeOf(row) ?? []);
    if (trains.length > 0) news.trains = trains;
    const runs = this.newsOf('run', rows.runs, (row) => row.train);
    if (runs.length > 0) news.runs = runs;
    const alarms = this.newsOf('alarm', rows.alarms, (row) => row.id);
    if (alarms.length > 0) news.alarms = alarms;
    if (rows.log !== undefined && rows.log.length > 0) news.log = rows.log;
    return news;
  }

  /** The fields that read differently; null when all are as told. */
  private changeOf(row: TrainView): TrainChange | null {
    const { train, ...fields } = row;
    const changed = Object.entries(fields).filter(([name, value]) =>
      this.isNews(`train ${train} ${name}`, value),
    );
    return changed.length === 0 ? null : { train, ...Object.fromEntries(changed) };
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
