import type { PartName } from '../pattern/piece.ts';
import type { Template } from './template.ts';
import { bodyTemplates } from './template-body.ts';
import { trimTemplates } from './template-trim.ts';

export const templates: readonly Template[] = [...bodyTemplates, ...trimTemplates];

export const templatesFor = (part: PartName): readonly Template[] => templates.filter((t) => t.parts.includes(part));
