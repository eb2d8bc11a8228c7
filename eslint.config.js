import { builtinModules } from 'node:module';
import eslint from '@eslint/js';
import tseslint from 'typescript-eslint';

const AT_THE_ENDS =
  'Packages are pure: files, clock, console, timers and randomness belong to apps/. Pass plain data in.';

/** Names from the platform that would make a package's answer depend on more than its arguments. */
const AMBIENT = [
  'Buffer',
  'Date',
  'clearInterval',
  'clearTimeout',
  'console',
  'crypto',
  'document',
  'fetch',
  'globalThis',
  'localStorage',
  'performance',
  'process',
  'setImmediate',
  'setInterval',
  'setTimeout',
  'window',
];

export default tseslint.config(
  { ignores: ['**/dist/', 'coverage/', 'fixtures/', 'seeds/', 'shared/'] },
  { linterOptions: { reportUnusedDisableDirectives: 'error' } },
  eslint.configs.recommended,
  {
    files: ['**/*.{ts,tsx}'],
    extends: [tseslint.configs.recommendedTypeChecked, tseslint.configs.stylisticTypeChecked],
    languageOptions: { parserOptions: { projectService: true, tsconfigRootDir: import.meta.dirname } },
    rules: {
      eqeqeq: 'error',
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/no-import-type-side-effects': 'error',
      '@typescript-eslint/no-non-null-assertion': 'error',
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_', ignoreRestSiblings: true }],
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true }],
      '@typescript-eslint/switch-exhaustiveness-check': ['error', { considerDefaultExhaustiveForUnions: true }],
      // Exported names carry their type (isolatedDeclarations), also where a literal gives it away.
      '@typescript-eslint/no-inferrable-types': 'off',
      // It would write `x as T` as `x!`, which is forbidden here.
      '@typescript-eslint/non-nullable-type-assertion-style': 'off',
      // An index loop reads like the formula it computes, also where the index happens to be used once.
      '@typescript-eslint/prefer-for-of': 'off',
    },
  },
  {
    files: ['packages/*/src/**/*.ts'],
    rules: {
      'no-restricted-globals': ['error', ...AMBIENT.map((name) => ({ name, message: AT_THE_ENDS }))],
      'no-restricted-properties': ['error', { object: 'Math', property: 'random', message: AT_THE_ENDS }],
      'no-restricted-imports': [
        'error',
        {
          paths: builtinModules.map((name) => ({ name, message: AT_THE_ENDS })),
          patterns: [{ group: ['node:*'], message: AT_THE_ENDS }],
        },
      ],
    },
  },
  {
    // Loops over typed arrays and grids: the index is in range by construction, and a check would only cost time.
    files: ['packages/{capture,solver,network,devices,verify}/src/**/*.ts', '**/test/**/*.ts', 'tests/**/*.ts'],
    rules: { '@typescript-eslint/no-non-null-assertion': 'off' },
  },
  {
    files: ['**/*.cjs'],
    languageOptions: { sourceType: 'commonjs', globals: { module: 'writable' } },
  },
);
