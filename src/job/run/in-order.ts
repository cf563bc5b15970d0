/**
 * Starts tasks side by side and gives their results in the order of the tasks. At most `ahead` are under way or wait
 * for an earlier one, so that memory does not grow with their number. `start` must not reject.
 */
export async function* inOrder<T, R>(
  tasks: Iterable<T>,
  ahead: number,
  start: (task: T) => Promise<R>,
): AsyncGenerator<R> {
  const waiting: Promise<R>[] = [];
  for (const task of tasks) {
    waiting.push(start(task));
    while (waiting.length >= ahead) yield await (waiting.shift() as Promise<R>);
  }
  for (const result of waiting) yield await result;
}
