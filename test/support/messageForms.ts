/**
 * Every message that the sources can make, as its fixed text with holes where values stand. Read from the sources with
 * the compiler: a message is followed through constants, conditions, functions that only put text together, and
 * functions that hand it on.
 */
import path from 'node:path';
import ts from 'typescript';

/** A message: its code, its text with each value as "{what the source writes}", and where its sentence stands. */
export interface MessageForm {
  readonly code: string;
  readonly form: string;
  readonly file: string;
  readonly line: number;
}

/** Text, or a value that only a run can tell; `open`: a parameter that a caller fills. */
type Piece =
  string | { readonly hole: string; readonly open: ts.ParameterDeclaration | null; readonly at: ts.Node };
type Form = readonly Piece[];

type Filled = ReadonlyMap<ts.ParameterDeclaration, ts.Expression>;

const root = path.resolve(import.meta.dirname, '..', '..');

/** Functions whose text is translated by itself: their results stand as values. */
const leftAsValues = new Set([
  'barName',
  'causeOf',
  'describe',
  'lengthText',
  'list',
  'metreText',
  'nameOf',
  'named',
  'plural',
  'quoted',
  'suggestion',
  'timesText',
]);

/** More variants than this are not told apart: what varies stands as a value. */
const mostForms = 200;
const deepest = 6;

const joined = (one: readonly Form[], other: readonly Form[]): readonly Form[] =>
  one.flatMap((a) => other.map((b) => [...a, ...b]));

const nameOf = (node: ts.Node): string => node.getText().replace(/\s+/g, ' ');

const isFunction = (node: ts.Node): node is ts.FunctionLikeDeclaration =>
  ts.isArrowFunction(node) ||
  ts.isFunctionDeclaration(node) ||
  ts.isFunctionExpression(node) ||
  ts.isMethodDeclaration(node) ||
  ts.isConstructorDeclaration(node);

const visit = (node: ts.Node, take: (node: ts.Node) => void): void => {
  take(node);
  ts.forEachChild(node, (inner) => visit(inner, take));
};

/** Whether each holds a word of its own: a text that is no more than values may as well stand as one. */
const isWritten = (forms: readonly Form[]): boolean =>
  forms.every((form) => form.some((piece) => typeof piece === 'string' && /[a-z]{3}/i.test(piece)));

const openProgram = () => {
  const files = ts.sys
    .readDirectory(path.join(root, 'src'), ['.ts', '.tsx'])
    .filter((file) => !file.endsWith('.d.ts') || file.includes('globals'));
  const options: ts.CompilerOptions = {
    target: ts.ScriptTarget.ES2023,
    module: ts.ModuleKind.ESNext,
    moduleResolution: ts.ModuleResolutionKind.Bundler,
    allowImportingTsExtensions: true,
    noEmit: true,
    noLib: true,
    types: [],
    jsx: ts.JsxEmit.ReactJSX,
    skipLibCheck: true,
  };
  const program = ts.createProgram(files, options);
  const sources = program
    .getSourceFiles()
    .filter(({ fileName }) => fileName.startsWith(path.join(root, 'src')));
  return { checker: program.getTypeChecker(), sources };
};

class Reader {
  readonly #checker: ts.TypeChecker;
  readonly #calls = new Map<ts.Node, (ts.CallExpression | ts.NewExpression)[]>();
  readonly #unread = new Set<string>();

  constructor(checker: ts.TypeChecker, sources: readonly ts.SourceFile[]) {
    this.#checker = checker;
    for (const source of sources)
      visit(source, (node) => {
        if (!ts.isCallExpression(node) && !ts.isNewExpression(node)) return;
        const callee = this.#calleeOf(node);
        if (callee === null) return;
        const known = this.#calls.get(callee);
        if (known === undefined) this.#calls.set(callee, [node]);
        else known.push(node);
      });
  }

  /** Places where a message could not be followed to its text. */
  get unread(): readonly string[] {
    return [...this.#unread];
  }

  #declarationOf(name: ts.Node): ts.Declaration | null {
    let symbol = this.#checker.getSymbolAtLocation(name);
    if (symbol === undefined) return null;
    if (symbol.flags & ts.SymbolFlags.Alias) symbol = this.#checker.getAliasedSymbol(symbol);
    return symbol.valueDeclaration ?? symbol.declarations?.[0] ?? null;
  }

  /** The function that is called: its body where there is one, or what an interface says of it. */
  #calleeOf(node: ts.CallExpression | ts.NewExpression): ts.Node | null {
    const name = ts.isPropertyAccessExpression(node.expression) ? node.expression.name : node.expression;
    const declared = this.#declarationOf(name);
    if (declared === null) return null;
    if (ts.isClassDeclaration(declared))
      return declared.members.find((member) => ts.isConstructorDeclaration(member)) ?? null;
    if (ts.isVariableDeclaration(declared) && declared.initializer !== undefined)
      return isFunction(declared.initializer) ? declared.initializer : declared;
    return declared;
  }

  callsOf(callee: ts.Node): readonly (ts.CallExpression | ts.NewExpression)[] {
    return this.#calls.get(callee) ?? [];
  }

  /** All texts that an expression may have. */
  forms(node: ts.Expression, filled: Filled, depth = 0): readonly Form[] {
    const hole = (open: ts.ParameterDeclaration | null = null): readonly Form[] => [
      [{ hole: nameOf(node), open, at: node }],
    ];
    if (depth > deepest) return hole();
    const inner = (one: ts.Expression): readonly Form[] => this.forms(one, filled, depth);
    if (ts.isStringLiteralLike(node)) return [[node.text]];
    if (ts.isParenthesizedExpression(node) || ts.isAsExpression(node)) return inner(node.expression);
    if (ts.isConditionalExpression(node)) return [...inner(node.whenTrue), ...inner(node.whenFalse)];
    if (ts.isBinaryExpression(node) && node.operatorToken.kind === ts.SyntaxKind.QuestionQuestionToken) {
      const texts = [
        ...inner(node.left),
        ...inner(node.right).filter((form) => form.some((piece) => piece !== '')),
      ];
      return isWritten(texts) ? texts : hole();
    }
    if (ts.isBinaryExpression(node) && node.operatorToken.kind === ts.SyntaxKind.PlusToken)
      return this.#sum(inner(node.left), inner(node.right)) ?? hole();
    if (ts.isTemplateExpression(node)) {
      let all: readonly Form[] = [[node.head.text]];
      for (const span of node.templateSpans) {
        const own = inner(span.expression);
        const some = own.length * all.length > mostForms ? [[this.#valueOf(span.expression)]] : own;
        all = joined(joined(all, some), [[span.literal.text]]);
      }
      return all;
    }
    if (ts.isIdentifier(node)) return this.#named(node, filled, depth) ?? hole(this.#parameter(node));
    if (ts.isElementAccessExpression(node)) return this.#table(node.expression) ?? hole();
    if (ts.isCallExpression(node)) {
      const [table] = node.expression.getText() === 'lookUp' ? node.arguments : [];
      return (table === undefined ? this.#called(node, filled, depth) : this.#table(table)) ?? hole();
    }
    return hole();
  }

  /** All texts of a table that is written out. */
  #table(node: ts.Expression): readonly Form[] | null {
    const declared = this.#declarationOf(node);
    if (declared === null || !ts.isVariableDeclaration(declared)) return null;
    const value = declared.initializer;
    if (value === undefined || !ts.isObjectLiteralExpression(value)) return null;
    const texts = value.properties.flatMap((one) =>
      ts.isPropertyAssignment(one) && ts.isStringLiteralLike(one.initializer) ? [one.initializer.text] : [],
    );
    return texts.length === value.properties.length ? [...new Set(texts)].map((text) => [text]) : null;
  }

  #valueOf(node: ts.Expression): Piece {
    return { hole: nameOf(node), open: null, at: node };
  }

  /** Two texts behind each other; null for a sum of numbers. */
  #sum(one: readonly Form[], other: readonly Form[]): readonly Form[] | null {
    const all = joined(one, other);
    return all.length <= mostForms && (isWritten(one) || isWritten(other)) ? all : null;
  }

  #parameter(node: ts.Identifier): ts.ParameterDeclaration | null {
    const declared = this.#declarationOf(node);
    return declared !== null && ts.isParameter(declared) && ts.isIdentifier(declared.name) ? declared : null;
  }

  #named(node: ts.Identifier, filled: Filled, depth: number): readonly Form[] | null {
    const declared = this.#declarationOf(node);
    if (declared === null) return null;
    if (ts.isParameter(declared)) {
      const given = filled.get(declared);
      return given === undefined ? null : this.forms(given, filled, depth + 1);
    }
    if (!ts.isVariableDeclaration(declared) || declared.initializer === undefined) return null;
    if (!ts.isIdentifier(declared.name) || (declared.parent.flags & ts.NodeFlags.Const) === 0) return null;
    const forms = this.forms(declared.initializer, filled, depth + 1);
    return forms.some((form) => form.some((piece) => typeof piece === 'string' && piece.trim() !== ''))
      ? forms
      : null;
  }

  /** What a function that puts a text together gives back. */
  #called(node: ts.CallExpression, filled: Filled, depth: number): readonly Form[] | null {
    const callee = this.#calleeOf(node);
    if (callee === null || !isFunction(callee) || callee.body === undefined) return null;
    const name = ts.isPropertyAccessExpression(node.expression)
      ? node.expression.name.text
      : node.expression.getText();
    if (leftAsValues.has(name)) return null;
    const results: ts.Expression[] = [];
    if (ts.isBlock(callee.body)) {
      const look = (one: ts.Node): void => {
        if (ts.isReturnStatement(one) && one.expression !== undefined) results.push(one.expression);
        else if (!isFunction(one)) ts.forEachChild(one, look);
      };
      look(callee.body);
    } else results.push(callee.body);
    const inside = this.#fill(callee, node, filled);
    const forms = results.flatMap((result) => this.forms(result, inside, depth + 1));
    return isWritten(forms) && forms.length <= 8 && forms.length > 0 ? forms : null;
  }

  #fill(
    callee: ts.FunctionLikeDeclaration,
    node: ts.CallExpression | ts.NewExpression,
    filled: Filled,
  ): Filled {
    const all = new Map(filled);
    callee.parameters.forEach((parameter, i) => {
      const given = node.arguments?.[i];
      all.delete(parameter);
      if (given !== undefined) all.set(parameter, given);
    });
    return all;
  }

  /** The messages of one call; where a parameter of the function around it stands open, of all calls of that one. */
  said(
    code: ts.Expression,
    message: ts.Expression,
    filled: Filled,
    site: ts.Node = message,
    depth = 0,
  ): readonly MessageForm[] {
    const codes = this.forms(code, filled);
    const made: Form[] = [];
    for (const form of this.#bodies(message, filled)) made.push(form);
    const open = [...codes, ...made]
      .flat()
      .flatMap((piece) => (typeof piece === 'string' || piece.open === null ? [] : [piece.open]))
      .find((parameter) => this.#isText(parameter) && this.#callers(parameter).length > 0);
    if (open !== undefined && depth < deepest) {
      const around = open.parent;
      return this.#callers(open).flatMap((call) => {
        const inside = isFunction(around) ? this.#fill(around, call, filled) : filled;
        return this.said(code, message, inside, call, depth + 1);
      });
    }
    const source = site.getSourceFile();
    const { line } = source.getLineAndCharacterOfPosition(site.getStart());
    const file = path.relative(root, source.fileName);
    return codes.flatMap((one) => {
      const [text] = one;
      if (one.length !== 1 || typeof text !== 'string') {
        this.#unread.add(`${file}:${line + 1}`);
        return [];
      }
      return made.map((form) => ({
        code: text,
        form: form.map((piece) => (typeof piece === 'string' ? piece : `{${piece.hole}}`)).join(''),
        file,
        line: line + 1,
      }));
    });
  }

  /** A message may be given as a function of a count. */
  #bodies(message: ts.Expression, filled: Filled): readonly Form[] {
    if (ts.isArrowFunction(message) && !ts.isBlock(message.body)) return this.#bodies(message.body, filled);
    if (ts.isIdentifier(message)) {
      const parameter = this.#parameter(message);
      const given = parameter === null ? undefined : filled.get(parameter);
      if (given !== undefined && ts.isArrowFunction(given)) return this.#bodies(given, filled);
    }
    if (
      ts.isPropertyAccessExpression(message) &&
      message.name.text === 'message' &&
      ts.isCallExpression(message.expression)
    ) {
      const call = message.expression;
      const callee = this.#calleeOf(call);
      if (
        callee !== null &&
        isFunction(callee) &&
        callee.body !== undefined &&
        ts.isCallExpression(callee.body)
      ) {
        const text = callee.body.arguments[2];
        if (text !== undefined) return this.forms(text, this.#fill(callee, call, filled));
      }
    }
    return this.forms(message, filled);
  }

  #isText(parameter: ts.ParameterDeclaration): boolean {
    const type = parameter.type?.getText() ?? this.#contextual(parameter);
    return !/number|bigint|boolean|Fraction|Beats/.test(type);
  }

  #contextual(parameter: ts.ParameterDeclaration): string {
    return this.#checker.typeToString(this.#checker.getTypeAtLocation(parameter));
  }

  #callers(parameter: ts.ParameterDeclaration): readonly (ts.CallExpression | ts.NewExpression)[] {
    const own = this.callsOf(parameter.parent);
    if (own.length > 0) return own;
    // A constant that is typed by an interface is called by way of the interface.
    const holder = parameter.parent.parent;
    if (!ts.isVariableDeclaration(holder)) return [];
    return this.callsOf(holder);
  }
}

export const messageForms = (): {
  readonly forms: readonly MessageForm[];
  readonly unread: readonly string[];
} => {
  const { checker, sources } = openProgram();
  const reader = new Reader(checker, sources);
  const forms: MessageForm[] = [];
  for (const source of sources)
    visit(source, (node) => {
      const ways = takers(node);
      if (ways === null) return;
      for (const call of reader.callsOf(node)) {
        if (ways.skip.some((file) => call.getSourceFile().fileName.endsWith(file))) continue;
        const [code, message] = [call.arguments?.[ways.code], call.arguments?.[ways.message]];
        if (code !== undefined && message !== undefined) forms.push(...reader.said(code, message, new Map()));
      }
    });
  return { forms, unread: reader.unread };
};

/** The four ways by which a problem is made; all others end in one of them. */
const takers = (node: ts.Node) => {
  const file = node.getSourceFile().fileName;
  const skip = ['units/result.ts', 'drafts/log.ts'];
  if (
    file.endsWith('units/problem.ts') &&
    ts.isArrowFunction(node) &&
    nameOf(node.parent).startsWith('problem =')
  )
    return { code: 1, message: 2, skip };
  if (
    file.endsWith('units/result.ts') &&
    ts.isArrowFunction(node) &&
    nameOf(node.parent).startsWith('fail =')
  )
    return { code: 0, message: 1, skip };
  if (file.endsWith('units/result.ts') && ts.isConstructorDeclaration(node))
    return { code: 0, message: 1, skip };
  if (file.endsWith('drafts/log.ts') && ts.isMethodSignature(node))
    return node.name.getText() === 'say'
      ? { code: 1, message: 2, skip: [] }
      : node.name.getText() === 'tally'
        ? { code: 1, message: 3, skip: [] }
        : null;
  return null;
};
