import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Readable, Writable } from 'node:stream';

/*
 * Chromium without a window, spoken to over its debugging protocol (https://chromedevtools.github.io/devtools-protocol/)
 * through pipes: messages of JSON, each ended by a zero byte.
 */

type Values = Readonly<Record<string, unknown>>;

interface Message {
  readonly id?: number;
  readonly method?: string;
  readonly params?: Values;
  readonly result?: Values;
  readonly error?: { readonly message: string };
}

/** One open page of the browser. */
export interface Page {
  readonly ask: <T = Values>(method: string, params?: Values) => Promise<T>;
  /** Opens an address and waits until it is loaded. */
  readonly open: (url: string) => Promise<void>;
  /** The value of an expression in the page. */
  readonly evaluate: <T>(expression: string) => Promise<T>;
  /** What the page said on its console, faults included. */
  readonly console: readonly string[];
  readonly close: () => Promise<void>;
}

export const openBrowser = async (): Promise<Page> => {
  const profile = mkdtempSync(join(tmpdir(), 'browser-'));
  const quiet = ['no-first-run', 'disable-background-networking', 'disable-component-update', 'disable-sync'];
  const flags = [
    'headless',
    'no-sandbox',
    'disable-gpu',
    'remote-debugging-pipe',
    ...quiet,
    `user-data-dir=${profile}`,
  ];
  const env = { ...process.env, XDG_CONFIG_HOME: profile };
  const stdio = ['ignore', 'ignore', 'ignore', 'pipe', 'pipe'] as const;
  const browser = spawn('chromium', [...flags.map((f) => `--${f}`), 'about:blank'], { stdio: [...stdio], env });
  const wire = wired(browser);
  const { targetInfos } = await wire.send<{ targetInfos: { type: string; targetId: string }[] }>('Target.getTargets');
  const target = targetInfos.find((t) => t.type === 'page');
  const { sessionId } = await wire.send<{ sessionId: string }>('Target.attachToTarget', {
    ...{ targetId: target?.targetId, flatten: true },
  });
  const ask: Page['ask'] = (method, params = {}) => wire.send(method, params, sessionId);
  for (const domain of ['Page', 'Runtime', 'Log', 'Accessibility', 'DOM']) await ask(`${domain}.enable`);
  return {
    ask,
    open: async (url) => {
      const loaded = wire.next('Page.loadEventFired');
      await ask('Page.navigate', { url });
      await loaded;
    },
    evaluate: async <T>(expression: string) => {
      const said = await ask<{ result: { value: T }; exceptionDetails?: unknown }>('Runtime.evaluate', {
        ...{ expression, returnByValue: true, awaitPromise: true },
      });
      if (said.exceptionDetails) throw new Error(JSON.stringify(said.exceptionDetails));
      return said.result.value;
    },
    console: wire.console,
    close: async () => {
      const ended = new Promise((resolve) => browser.once('exit', resolve));
      await wire.send('Browser.close').catch(() => undefined);
      await ended;
      rmSync(profile, { recursive: true, force: true, maxRetries: 5 });
    },
  };
};

const SAID = ['Runtime.consoleAPICalled', 'Runtime.exceptionThrown', 'Log.entryAdded'];

const wired = (browser: ChildProcess) => {
  const [out, into] = [browser.stdio[3] as Writable, browser.stdio[4] as Readable];
  const waiting = new Map<number, { resolve: (value: never) => void; reject: (error: Error) => void }>();
  const listening: { method: string; resolve: () => void }[] = [];
  const console: string[] = [];
  let [count, rest] = [0, ''];
  const heard = (message: Message): void => {
    const { id, method = '', params, result, error } = message;
    if (id !== undefined) {
      const asked = waiting.get(id);
      waiting.delete(id);
      if (error) asked?.reject(new Error(error.message));
      else asked?.resolve(result as never);
      return;
    }
    if (SAID.includes(method)) console.push(JSON.stringify(params));
    for (const listener of listening.filter((l) => l.method === method)) {
      listening.splice(listening.indexOf(listener), 1);
      listener.resolve();
    }
  };
  into.setEncoding('utf8').on('data', (text: string) => {
    const parts = (rest + text).split('\0');
    rest = parts.pop() ?? '';
    for (const part of parts) heard(JSON.parse(part) as Message);
  });
  const send = <T = Values>(method: string, params: Values = {}, sessionId?: string): Promise<T> =>
    new Promise<T>((resolve, reject) => {
      const id = ++count;
      waiting.set(id, { resolve: resolve as (value: never) => void, reject });
      out.write(`${JSON.stringify({ id, method, params, ...(sessionId ? { sessionId } : {}) })}\0`);
    });
  const next = (method: string): Promise<void> => new Promise((resolve) => listening.push({ method, resolve }));
  return { send, next, console };
};
