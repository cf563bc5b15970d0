import { processIo } from './io.ts';
import { run } from './run.ts';

// A reader that has seen enough (`retrue alter … | head`) is no fault of anyone, and ends no run: it goes on unheard.
for (const stream of [process.stdout, process.stderr]) {
  stream.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code !== 'EPIPE') throw error;
  });
}

process.exitCode = await run(process.argv.slice(2), processIo());
