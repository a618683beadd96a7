import { readFileSync } from 'node:fs';
import path from 'node:path';
import ts from 'typescript';

export interface UsedCodes {
  /** Each code, and the severities that it is said with. */
  readonly codes: ReadonlyMap<string, ReadonlySet<string>>;
  /** Calls whose code is not written out where it is named, as "src/file.ts:12". */
  readonly unreadable: readonly string[];
}

/** Where a function takes its code and its severity; or the severity that it gives itself. */
interface Taker {
  readonly code: number;
  readonly severity: number;
  readonly own: string;
}

const root = path.resolve(import.meta.dirname, '..', '..');

const visit = (node: ts.Node, take: (node: ts.Node) => void): void => {
  take(node);
  ts.forEachChild(node, (inner) => visit(inner, take));
};

const sources = (): readonly ts.SourceFile[] =>
  ts.sys
    .readDirectory(path.join(root, 'src'), ['.ts', '.tsx'])
    .map((file) => ts.createSourceFile(file, readFileSync(file, 'utf8'), ts.ScriptTarget.ESNext, true));

/** Names that hold everywhere (methods begin with a dot), and those of one file alone. */
const key = (name: string, file: ts.SourceFile | null): string =>
  file === null ? name : `${file.fileName} ${name}`;

/** What a function is called by: its own name, its class's, or that of the constant that holds it. */
const keyOf = (node: ts.SignatureDeclaration): string => {
  if (ts.isMethodDeclaration(node) || ts.isMethodSignature(node)) return key(`.${node.name.getText()}`, null);
  const holder = ts.isConstructorDeclaration(node) || ts.isArrowFunction(node) ? node.parent : node;
  const name = 'name' in holder && holder.name !== undefined ? (holder.name as ts.Node).getText() : '';
  if (name === '') throw new Error(`A nameless function takes a code in ${node.getSourceFile().fileName}`);
  const statement = ts.isVariableDeclaration(holder) ? holder.parent.parent : holder;
  const exported =
    ts.canHaveModifiers(statement) &&
    ts.getModifiers(statement)?.some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword) === true;
  return key(name, exported ? null : node.getSourceFile());
};

/** The severity with which a function makes its problem, where it is not told; an error if it does not say. */
const ownSeverity = (node: ts.SignatureDeclaration): string => {
  let own = 'error';
  visit(node, (inner) => {
    if (!ts.isCallExpression(inner) || inner.expression.getText() !== 'problem') return;
    const [severity] = inner.arguments;
    if (severity !== undefined && ts.isStringLiteral(severity)) own = severity.text;
  });
  return own;
};

/** Functions with a parameter `code: string`. */
const takers = (files: readonly ts.SourceFile[]): ReadonlyMap<string, Taker> => {
  const found = new Map<string, Taker>();
  for (const file of files)
    visit(file, (node) => {
      if (!ts.isFunctionLike(node)) return;
      const names = node.parameters.map(({ name, type }) =>
        name.getText() === 'code' && type?.kind !== ts.SyntaxKind.StringKeyword ? '' : name.getText(),
      );
      if (!names.includes('code')) return;
      const taker = {
        code: names.indexOf('code'),
        severity: names.indexOf('severity'),
        own: ownSeverity(node),
      };
      const known = found.get(keyOf(node)) ?? taker;
      if (known.code !== taker.code || known.severity !== taker.severity)
        throw new Error(`${keyOf(node)} takes its code in two ways`);
      found.set(keyOf(node), taker);
    });
  return found;
};

/** The texts that an argument may have; null where the source does not show them. */
const texts = (argument: ts.Expression): readonly string[] | null => {
  if (ts.isStringLiteralLike(argument)) return [argument.text];
  if (ts.isParenthesizedExpression(argument)) return texts(argument.expression);
  if (ts.isConditionalExpression(argument)) {
    const [one, other] = [texts(argument.whenTrue), texts(argument.whenFalse)];
    return one === null || other === null ? null : [...one, ...other];
  }
  if (!ts.isIdentifier(argument)) return null;
  let value: readonly string[] | null = null;
  visit(argument.getSourceFile(), (node) => {
    if (ts.isVariableDeclaration(node) && node.name.getText() === argument.text && node.initializer)
      value = texts(node.initializer);
  });
  return value;
};

/** Whether an argument hands on what somebody else named: the code of a problem, or a parameter of that name. */
const isHandedOn = (argument: ts.Expression): boolean => {
  if (ts.isPropertyAccessExpression(argument)) return argument.name.text === 'code';
  let handed = false;
  visit(argument.getSourceFile(), (node) => {
    if (!ts.isParameter(node) && !ts.isBindingElement(node)) return;
    if (argument.getText() === 'code' && node.name.getText() === 'code')
      handed ||= ts.isParameter(node) || ts.isObjectBindingPattern(node.parent);
  });
  return handed;
};

/**
 * Every code that the sources use: the argument that each function with a parameter `code` is given. The severity is
 * the argument for a parameter `severity`, or what the function itself says.
 */
export const usedCodes = (): UsedCodes => {
  const files = sources();
  const known = takers(files);
  const codes = new Map<string, Set<string>>();
  const unreadable: string[] = [];
  for (const file of files)
    visit(file, (node) => {
      if (!ts.isCallExpression(node) && !ts.isNewExpression(node)) return;
      const { expression: callee } = node;
      const taker = ts.isPropertyAccessExpression(callee)
        ? known.get(key(`.${callee.name.text}`, null))
        : (known.get(key(callee.getText(), file)) ?? known.get(key(callee.getText(), null)));
      const argument = taker === undefined ? undefined : node.arguments?.[taker.code];
      if (taker === undefined || argument === undefined) return;
      const named = texts(argument);
      if (named === null) {
        const { line } = file.getLineAndCharacterOfPosition(node.getStart());
        if (!isHandedOn(argument)) unreadable.push(`${path.relative(root, file.fileName)}:${line + 1}`);
        return;
      }
      const severity = node.arguments?.[taker.severity];
      const severities = severity === undefined ? [taker.own] : (texts(severity) ?? []);
      for (const code of named) codes.set(code, new Set([...(codes.get(code) ?? []), ...severities]));
    });
  return { codes, unreadable };
};
