/**
 * Runs scripts of package.json side by side, so that no core waits for another: each argument names scripts that run one after the other,
 * and stands for one lane. What a script said is printed when it has ended, so that lanes do not mix. Ends with 1 where one failed; all are run.
 */
import { spawn } from 'node:child_process';

const run = (script) =>
  new Promise((resolve) => {
    const said = [];
    const child = spawn('npm', ['run', script], { stdio: ['ignore', 'pipe', 'pipe'] });
    for (const stream of [child.stdout, child.stderr]) stream.on('data', (bytes) => said.push(bytes));
    const ended = (well) => {
      process.stdout.write(Buffer.concat(said));
      resolve(well);
    };
    child.on('error', (error) => {
      said.push(Buffer.from(`npm cannot be run: ${error.message}\n`));
      ended(false);
    });
    child.on('close', (code) => ended(code === 0));
  });

const failed = [];
const lane = async (scripts) => {
  for (const script of scripts) if (!(await run(script))) failed.push(script);
};
await Promise.all(process.argv.slice(2).map((scripts) => lane(scripts.split(' '))));
if (failed.length > 0) {
  console.error(`Failed: ${failed.join(', ')}`);
  process.exitCode = 1;
}
