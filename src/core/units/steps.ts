/** Long work in short steps: whoever runs it can do something else between them, or never go on. */
export type Steps<T> = Generator<undefined, T>;

/** Does all the steps at once and answers what they come to. */
export function allSteps<T>(steps: Steps<T>): T {
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
}
