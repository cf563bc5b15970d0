/** What a user needs to tell us when the program is at fault. */
export const faultText = (error: unknown, args: readonly string[]): string => {
  const told = error instanceof Error ? (error.stack ?? error.message) : String(error);
  return [
    'retrue failed. This is a fault of the program, not of your files or of what you typed.',
    'Please report it with the pattern file, the fittings, and these lines:',
    `  retrue ${args.map(quoted).join(' ')}`,
    `  node ${process.version} on ${process.platform}`,
    ...told.split('\n').map((line) => `  ${line}`),
    '',
  ].join('\n');
};

const quoted = (arg: string): string => (/^[\w@%+=:,./-]+$/.test(arg) ? arg : `'${arg.replaceAll("'", `'\\''`)}'`);
