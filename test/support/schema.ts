/**
 * Validation by an independent program: xmllint (Debian: libxml2-utils) against the W3C's MusicXML 4.0 schema. The
 * catalog beside the schema leads its imports to local files, so nothing is fetched.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { sharedData } from '../shared.ts';

const folder = sharedData === null ? null : path.join(sharedData, 'schema', 'musicxml-4.0');
const schema = folder === null ? null : path.join(folder, 'musicxml.xsd');

/** Why documents cannot be validated here; null where they can. */
export const cannotValidate: string | null =
  schema === null || !existsSync(schema)
    ? 'the MusicXML schema is not here'
    : spawnSync('xmllint', ['--version']).error !== undefined
      ? 'xmllint is not installed'
      : null;

if (cannotValidate !== null) console.log(`Schema validation is skipped: ${cannotValidate}.`);

/** What the schema says against the documents, all of them in one run; empty where all are valid. */
export const schemaErrors = (documents: ReadonlyMap<string, string>): readonly string[] => {
  if (folder === null || schema === null) throw new Error('There is no schema.');
  const place = mkdtempSync(path.join(tmpdir(), 'levare-schema-'));
  try {
    const names = [...documents.keys()];
    const files = names.map((_, index) => path.join(place, `${index}.musicxml`));
    files.forEach((file, index) => {
      writeFileSync(file, documents.get(names[index] ?? '') ?? '');
    });
    const run = spawnSync('xmllint', ['--noout', '--nonet', '--schema', schema, ...files], {
      encoding: 'utf8',
      env: { ...process.env, XML_CATALOG_FILES: pathToFileURL(path.join(folder, 'catalog.xml')).href },
      maxBuffer: 1 << 26,
    });
    const lines = run.stderr.split('\n').filter((line) => line !== '');
    const valid = new Set(lines.filter((line) => line.endsWith(' validates')));
    const missing = files.filter((file) => !valid.has(`${file} validates`));
    const told = lines.filter((line) => !valid.has(line));
    return [...told, ...missing.map((file) => `${file} was not found valid`)].map((line) =>
      files.reduce((text, file, index) => text.replaceAll(file, names[index] ?? file), line),
    );
  } finally {
    rmSync(place, { recursive: true });
  }
};
