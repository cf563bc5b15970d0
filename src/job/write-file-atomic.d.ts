/** The package brings no types of its own. Only what is used here. */
declare module 'write-file-atomic' {
  const writeFileAtomic: (path: string, data: string | Buffer) => Promise<void>;
  export default writeFileAtomic;
}
