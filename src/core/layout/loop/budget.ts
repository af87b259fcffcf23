/** Work is counted, never timed, so that the same bed ends the same way on every machine. */
export class StepBudget {
  private left: number;

  constructor(steps: number) {
    this.left = steps;
  }

  /** Takes some steps; false once they are used up. */
  spend(steps: number): boolean {
    this.left -= steps;
    return this.left > 0;
  }

  get isSpent(): boolean {
    return this.left <= 0;
  }
}
