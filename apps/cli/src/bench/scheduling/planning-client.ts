import { Worker } from 'node:worker_threads';
import type { PlannerOptions, Problem } from '@blockbell/scheduling';
import type { PlanningReport, PlanningRequest } from './messages.js';

/** A report as it has come back, problem and plan having gone from thread to thread. */
export interface TimedReport extends PlanningReport {
  /** Since the request was sent, ms. */
  readonly elapsed: number;
}

/** A thread that plans one problem at a time. */
export class PlanningClient {
  readonly #thread = new Worker(new URL('./planning-thread.js', import.meta.url));

  /**
   * Plans until the best plan is proven, until `follow` returns false after a report, or until the time is over.
   *
   * @param limit ms
   * @returns the last report
   */
  plan(
    problem: Problem,
    options: PlannerOptions,
    limit: number,
    follow: (report: TimedReport) => boolean,
  ): Promise<TimedReport> {
    const start = performance.now();
    const send = (request: PlanningRequest): void => this.#thread.postMessage(request, []);
    return new Promise((resolve, reject) => {
      const timer = setTimeout(() => send({ type: 'stop' }), limit);
      const settle = (): void => {
        clearTimeout(timer);
        this.#thread.off('message', onReport);
        this.#thread.off('error', onError);
      };
      const onReport = (received: PlanningReport): void => {
        const report = { ...received, elapsed: performance.now() - start };
        const wanted = follow(report);
        if (report.ended) {
          settle();
          resolve(report);
        } else if (!wanted) {
          send({ type: 'stop' });
        }
      };
      const onError = (error: unknown): void => {
        settle();
        reject(error instanceof Error ? error : new Error(String(error)));
      };
      this.#thread.on('message', onReport);
      this.#thread.on('error', onError);
      send({ type: 'plan', problem, options });
    });
  }

  async close(): Promise<void> {
    await this.#thread.terminate();
  }
}
