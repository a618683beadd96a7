/**
 * Runs scripts of package.json side by side, so that no core waits for another: each argument names scripts that run one after the other.
 * All are run; ends with 1, and names them, where some failed.
 */
import { spawn } from 'node:child_process';

const failed = [];
const run = (script) =>
  new Promise((resolve) => {
    const child = spawn('npm', ['run', script], { stdio: ['ignore', 'inherit', 'inherit'] });
    child.on('error', () => resolve(false));
    child.on('close', (code) => resolve(code === 0));
  });
const inTurn = async (scripts) => {
  for (const script of scripts) if (!(await run(script))) failed.push(script);
};

await Promise.all(process.argv.slice(2).map((scripts) => inTurn(scripts.split(' '))));
if (failed.length > 0) {
  console.error(`Failed: ${failed.join(', ')}`);
  process.exitCode = 1;
}
