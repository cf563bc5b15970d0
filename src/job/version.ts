import { version as stated } from '../../package.json';

export const version: string = stated;
