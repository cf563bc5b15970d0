import { processIo } from './io.ts';
import { run } from './run.ts';

// A reader that has seen enough (`retrue survey … | head`) is no fault of anyone.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
  process.exit();
});

process.exitCode = await run(process.argv.slice(2), processIo());
