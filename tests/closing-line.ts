import type { Reporter, TestModule } from 'vitest/node';

/** Ends a run with one plain line, `N passed, N failed`; a file whose hook failed counts as one failure. */
export default class ClosingLine implements Reporter {
  onTestRunEnd(modules: readonly TestModule[]): void {
    let passed = 0;
    let failed = 0;
    let skipped = 0;
    for (const file of modules) {
      let own = 0;
      for (const test of file.children.allTests()) {
        const { state } = test.result();
        if (state === 'passed') passed++;
        else if (state === 'failed') own++;
        else skipped++;
      }
      failed += file.state() === 'failed' && own === 0 ? 1 : own;
    }
    console.log(`${passed} passed, ${failed} failed${skipped ? `, ${skipped} skipped` : ''}`);
  }
}
