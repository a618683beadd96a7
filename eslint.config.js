import tseslint from 'typescript-eslint';
import { coreFolders, folders, mayImport } from './scripts/imports.mjs';

/** What files of `folder` may not reach by a relative path: every folder that the table does not name. */
const forbidden = (folder) => {
  const allowed = new Set(['units', folder, ...mayImport[folder]]);
  const whole = folders.filter((other) => !allowed.has(other));
  const sides = [...allowed].filter((name) => name.startsWith('host/'));
  return whole
    .filter((other) => other !== 'host' || sides.length === 0)
    .map((other) => ({
      regex: `^(\\.\\./)+${other}(/|$)`,
      message: `src/${folder} may not import src/${other}: see scripts/imports.mjs.`,
    }))
    .concat(
      sides.length === 0
        ? []
        : [
            {
              regex: `^(\\.\\./)+host/(?!${sides.map((side) => side.slice(5)).join('|')})`,
              message: `src/${folder} may only import ${sides.join(', ')} of src/host.`,
            },
          ],
    );
};

const oneWay = folders.map((folder) => ({
  files: [`src/${folder}/**/*.ts`, `src/${folder}/**/*.tsx`],
  rules: {
    'no-restricted-imports': [
      'error',
      {
        patterns: [
          ...forbidden(folder),
          ...(coreFolders.includes(folder)
            ? [
                {
                  regex: '^node:',
                  message: 'The core knows no Node: hand the thing in through a port of desk.',
                },
              ]
            : []),
        ],
      },
    ],
  },
}));

const pure = {
  files: coreFolders.map((folder) => `src/${folder}/**/*.ts`),
  rules: {
    'no-restricted-properties': [
      'error',
      { object: 'Math', property: 'random', message: 'Take a seeded source of randomness as an argument.' },
      { object: 'Date', property: 'now', message: 'The core has no clock: take the time as an argument.' },
    ],
    'no-restricted-globals': ['error', 'process', 'performance', 'setTimeout', 'setInterval'],
    'no-restricted-syntax': [
      'error',
      {
        selector: "NewExpression[callee.name='Date']",
        message: 'The core has no clock: take the time as an argument.',
      },
    ],
  },
};

export default tseslint.config(
  { ignores: ['dist/', 'dist-app/', 'node_modules/', 'demo/out/'] },
  { linterOptions: { noInlineConfig: true, reportUnusedDisableDirectives: 'error' } },
  ...tseslint.configs.strictTypeChecked.map((config) => ({ ...config, files: ['**/*.ts', '**/*.tsx'] })),
  {
    files: ['**/*.ts', '**/*.tsx'],
    languageOptions: {
      parserOptions: {
        project: ['./tsconfig.core.json', './tsconfig.json', './tsconfig.app.json'],
        tsconfigRootDir: import.meta.dirname,
      },
    },
    rules: {
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true, allow: [] }],
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/switch-exhaustiveness-check': 'error',
      '@typescript-eslint/no-confusing-void-expression': ['error', { ignoreArrowShorthand: true }],
      eqeqeq: 'error',
    },
  },
  ...oneWay,
  pure,
);
