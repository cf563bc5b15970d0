declare module 'svg-parser' {
  export interface SvgNode {
    readonly type: string;
    readonly tagName?: string;
    readonly children?: readonly (SvgNode | string)[];
  }
  export function parse(source: string): SvgNode;
}
