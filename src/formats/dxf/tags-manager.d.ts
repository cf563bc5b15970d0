/** The tag emitter of dxf-writer, which has no types of its own. */
declare module 'dxf-writer/src/TagsManager.js' {
  export default class TagsManager {
    push(code: number, value: string | number): void;
    toDxfString(): string;
  }
}
