import type { Finding, Where } from '../finding.ts';

/** An option was given what it cannot be. `remedy` says what can be written. */
export const optionUnknown = (message: string, remedy: string, where: Where = {}): Finding => ({
  code: 'job-option-unknown',
  level: 'error',
  where,
  message,
  try: remedy,
});
