/** Recipes that the server keeps: versions in the archive, and files in the folder that the desk was started in. */
import { fileFromRecipe, type Recipe, readRecipe } from '../../../recipe/index.js';
import { ask, server } from '../server-link.js';

/** Whether there is a server that does. */
export function serverKeeps(): boolean {
  const { value } = server;
  return typeof value === 'object' && value.keepsPrints;
}

export interface ListedVersion {
  readonly name: string;
  readonly version: number;
  readonly title: string;
  readonly negative: string;
  readonly content: string;
  readonly keptMs: number;
}

export interface ListedPrints {
  readonly versions: readonly ListedVersion[];
  readonly files: readonly string[];
}

export function listPrints(): Promise<ListedPrints> {
  return ask('/api/prints');
}

export async function versionText(content: string): Promise<string> {
  return (await ask<{ text: string }>(`/api/prints/version?${new URLSearchParams({ content })}`)).text;
}

export async function fileText(name: string): Promise<string> {
  return (await ask<{ text: string }>(`/api/prints/file?${new URLSearchParams({ name })}`)).text;
}

/** Keeps a version in the archive. @returns it as it was numbered there */
export async function keepVersion(recipe: Recipe): Promise<Recipe> {
  const { file } = await ask<{ file: unknown }>('/api/prints/version', fileFromRecipe(recipe));
  return readRecipe(JSON.stringify(file));
}

/** @param was what is known to stand there; null for a new file */
export function writeFile(name: string, text: string, was: string | null): Promise<{ path: string }> {
  return ask('/api/prints/file', { name, text, was });
}
