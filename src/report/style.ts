import { FIGURE_STYLE } from '../picture/svg.ts';

/*
 * The look of the pages: one column of quiet type, ruled tables, nothing that moves. Colours are named once; every pair
 * of words and ground keeps 4.5:1, every line that carries meaning 3:1 (WCAG 2.2, success criteria 1.4.3 and 1.4.11).
 */

export interface Palette {
  readonly paper: string;
  readonly ink: string;
  readonly soft: string;
  readonly rule: string;
  readonly line: string;
  readonly good: string;
  readonly bad: string;
  readonly warn: string;
  readonly accent: string;
}

export const LIGHT: Palette = {
  paper: '#ffffff',
  ink: '#1c1c1c',
  soft: '#565656',
  rule: '#c9c5bd',
  line: '#767676',
  good: '#1d5a3a',
  bad: '#9c1c14',
  warn: '#7a4a00',
  accent: '#12406b',
};

export const DARK: Palette = {
  paper: '#191b1e',
  ink: '#ececea',
  soft: '#b4b4b0',
  rule: '#4a4d52',
  line: '#8f9399',
  good: '#8fd6ab',
  bad: '#ffaaa0',
  warn: '#f2c477',
  accent: '#a9cdf0',
};

const variables = (p: Palette): string =>
  Object.entries(p)
    .map(([name, colour]) => `--${name}:${colour}`)
    .join(';');

const SERIF = '"Iowan Old Style","Palatino Linotype",Palatino,P052,"Book Antiqua",Georgia,"Times New Roman",serif';
const SANS = 'system-ui,-apple-system,"Segoe UI",Roboto,"Helvetica Neue","Nimbus Sans",Arial,"DejaVu Sans",sans-serif';

const PAGE = `
*{box-sizing:border-box}
html{color-scheme:light dark;-webkit-text-size-adjust:100%;text-size-adjust:100%}
body{margin:0 auto;padding:1.5rem clamp(1rem,4vw,3rem) 4rem;max-width:64rem;background:var(--paper);color:var(--ink);
 font:1.0625rem/1.5 ${SERIF};text-align:left;overflow-wrap:break-word}
a{color:var(--accent);text-underline-offset:.15em}
:focus-visible{outline:3px solid var(--accent);outline-offset:2px}
.skip{position:absolute;left:-100vw;padding:.5rem 1rem;background:var(--paper)}
.skip:focus{left:1rem;top:1rem;z-index:1}
h1{font-size:clamp(1.75rem,5vw,2.6rem);line-height:1.15;font-weight:400;margin:.1em 0 .3em;letter-spacing:-.01em}
h2{font-size:1.45rem;line-height:1.25;font-weight:400;margin:2.6rem 0 .7rem;padding-top:.55rem;border-top:1px solid var(--ink)}
h3{font-size:1.1rem;line-height:1.3;font-weight:600;margin:1.8rem 0 .3rem}
p{margin:.4rem 0;max-width:44rem}
.kicker,.up{font:.9rem/1.4 ${SANS};color:var(--soft);margin:0}
.up{margin-bottom:1.4rem}
.lead{font-size:1.2rem;line-height:1.45}
.verdict{font:600 1rem/1.4 ${SANS};margin:.9rem 0 .3rem;padding-left:.7rem;border-left:.35rem solid}
.good{color:var(--good)}.bad{color:var(--bad)}.plain{color:var(--soft)}
.facts{display:grid;grid-template-columns:max-content 1fr;gap:.1rem 1.2rem;margin:.6rem 0;font:.95rem/1.5 ${SANS}}
.facts dt{color:var(--soft)}.facts dd{margin:0;min-width:0;overflow-wrap:anywhere}
nav ul{display:flex;flex-wrap:wrap;gap:.2rem 1.2rem;list-style:none;margin:1.2rem 0 0;padding:0;font:.95rem/1.6 ${SANS}}
ul.points{margin:.5rem 0;padding-left:1.2rem;max-width:46rem}ul.points li{margin:.2rem 0}
.table{overflow-x:auto;margin:.8rem 0 1.2rem}
table{border-collapse:collapse;width:100%;font:.95rem/1.4 ${SANS};font-variant-numeric:tabular-nums lining-nums}
caption{text-align:left;font-weight:600;padding:.2rem 0 .4rem}
th,td{text-align:left;vertical-align:top;padding:.3rem .9rem .3rem 0;border-bottom:1px solid var(--rule);font-weight:400}
thead th{color:var(--soft);border-bottom:1px solid var(--ink);vertical-align:bottom}
th:last-child,td:last-child{padding-right:0}
.end{text-align:right;white-space:nowrap}thead .end{white-space:normal}.strong{font-weight:600}
td span.line,th span.line{display:block}
.bar{display:block;width:6rem;max-width:100%;height:.55rem;margin-top:.35rem}
.bar rect{fill:none;stroke:var(--line)}.bar .used{fill:var(--ink);stroke:none}.bar .over{fill:var(--bad)}
label.box{display:inline-flex;align-items:center;gap:.45rem;margin-right:1.1rem;padding:.15rem 0;min-height:1.75rem}
input[type=checkbox]{appearance:none;width:1.25rem;height:1.25rem;margin:0;border:2px solid var(--ink);background:var(--paper);
 flex:none;display:grid;place-content:center}
input[type=checkbox]:checked::before{content:"";width:.4rem;height:.8rem;border:solid var(--ink);border-width:0 .2rem .2rem 0;
 transform:rotate(45deg) translate(-.05rem,-.08rem)}
.notices{list-style:none;margin:.6rem 0;padding:0}
.notices li{margin:0 0 1rem;padding-left:.8rem;border-left:.25rem solid var(--rule);max-width:46rem}
.notices li.error{border-color:var(--bad)}.notices li.warning{border-color:var(--warn);border-left-style:double;border-left-width:.4rem}
.notices .level{font:600 .95rem/1.4 ${SANS}}
.error .level{color:var(--bad)}.warning .level{color:var(--warn)}
.notices .code{font:.8rem/1.4 ui-monospace,"DejaVu Sans Mono",monospace;color:var(--soft)}
.notices p{margin:.15rem 0}
.gallery{display:grid;grid-template-columns:minmax(0,1fr);gap:2.2rem;margin:1rem 0}
.item{display:flex;flex-wrap:wrap;gap:1rem 2.5rem;align-items:flex-start}
.item h3{flex:1 0 100%;margin:0 0 -.6rem}
.item figure{margin:0;flex:0 1 auto;min-width:0}
.item .table{flex:1 1 20rem;min-width:0;margin-top:0}
figcaption{font:.95rem/1.4 ${SANS};margin-bottom:.5rem;max-width:44rem}
svg.figure{display:block;max-width:100%;height:auto;background:#fff;font-family:${SANS}}
footer{margin-top:3rem;padding-top:.6rem;border-top:1px solid var(--ink);font:.85rem/1.5 ${SANS};color:var(--soft)}
footer p{max-width:none;overflow-wrap:anywhere}
`;

const NARROW = `
@media (max-width:34rem){body{font-size:1rem}.wide table{min-width:36rem}th,td{padding-right:.6rem}.facts{grid-template-columns:1fr}.facts dd{margin-bottom:.3rem}}
`;

/**
 * On paper always dark on white, sections kept together where they can be, links as plain words. Paper cannot be scrolled:
 * a table that is too wide beside its picture goes below it, and where even that is too narrow long words are broken.
 */
const PRINT = `
@page{margin:14mm 14mm 16mm}
@media print{
:root{${variables(LIGHT)}}
html{color-scheme:light;font-size:9.5pt}
body{padding:0;max-width:none;font-size:1.05rem;line-height:1.4}
.skip,nav,.up{display:none}
a{color:inherit;text-decoration:none}
h1{font-size:2.4rem}h2{margin-top:8mm}
.table{overflow:visible}
h2,h3,caption,figcaption{break-after:avoid}
figure,tr,.notices li,.facts{break-inside:avoid}
thead{display:table-header-group;break-after:avoid}
section.sheet{break-before:page}
svg.figure{max-width:none}
.item{gap:4mm 8mm;break-inside:avoid}.item .table{flex-basis:60mm;min-width:min-content}
.end{white-space:normal}
th:not(.end),td:not(.end){overflow-wrap:anywhere;min-width:6em}
}
`;

/** The style sheet of every page. */
export const STYLE = [
  `:root{${variables(LIGHT)}}`,
  `@media (prefers-color-scheme:dark){:root{${variables(DARK)}}}`,
  PAGE,
  NARROW,
  PRINT,
  FIGURE_STYLE,
]
  .join('')
  .replace(/\n\s*/g, '');
