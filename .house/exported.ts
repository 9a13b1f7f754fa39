import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';

/** Something a file offers to others, or a public method of such a class, with what its comment says. */
export interface Exported {
  readonly file: string;
  readonly line: number;
  readonly name: string;
  readonly kind: 'function' | 'class' | 'method' | 'type' | 'value';
  /** Whether a docstring stands directly above. */
  readonly documented: boolean;
  /** Texts of the tags `@throws`, `@source` and the names after `@param`. */
  readonly throws: readonly string[];
  readonly sources: readonly string[];
  readonly params: readonly string[];
  /** Names of the arguments, those inside a destructured one included. */
  readonly parameters: readonly string[];
  /** Whether a refusal is made in its own lines, not only further down. */
  readonly refuses: boolean;
}

const ROOT = fileURLToPath(new URL('../', import.meta.url));

function parse(file: string, text = readFileSync(`${ROOT}${file}`, 'utf8')): ts.SourceFile {
  return ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true);
}

/** What the files export by a declaration of their own; `export … from` only passes on. Paths from the project's top. */
export function exportedFrom(files: readonly string[]): Exported[] {
  return files.flatMap((file) => exportedIn(parse(file)));
}

/** The same for a text that lies in no file. */
export function exportedFromText(file: string, text: string): Exported[] {
  return exportedIn(parse(file, text));
}

function exportedIn(source: ts.SourceFile): Exported[] {
  const declared = source.statements.filter(
    (statement) =>
      ts.canHaveModifiers(statement) &&
      ts.getModifiers(statement)?.some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword),
  );
  return declared.flatMap((statement) => describe(statement, source));
}

function describe(statement: ts.Statement, source: ts.SourceFile): Exported[] {
  const entry = (node: ts.Node, name: string, kind: Exported['kind'], parameters: readonly string[]): Exported => ({
    file: source.fileName,
    line: source.getLineAndCharacterOfPosition(node.getStart(source)).line + 1,
    name,
    kind,
    parameters,
    refuses: kind !== 'class' && node.getText(source).includes('throw new Refusal('),
    ...commentOf(node),
  });
  if (ts.isFunctionDeclaration(statement)) {
    return [entry(statement, statement.name?.text ?? 'default', 'function', parametersOf(statement))];
  }
  if (ts.isClassDeclaration(statement)) {
    const name = statement.name?.text ?? 'default';
    const methods = statement.members.filter(
      (member): member is ts.MethodDeclaration => ts.isMethodDeclaration(member) && isPublic(member),
    );
    return [
      entry(statement, name, 'class', []),
      ...methods.map((method) => entry(method, `${name}.${method.name.getText()}`, 'method', parametersOf(method))),
    ];
  }
  if (ts.isInterfaceDeclaration(statement) || ts.isTypeAliasDeclaration(statement)) {
    return [entry(statement, statement.name.text, 'type', [])];
  }
  if (ts.isVariableStatement(statement)) {
    return statement.declarationList.declarations.map(({ name, initializer }) => {
      const called = initializer && (ts.isArrowFunction(initializer) || ts.isFunctionExpression(initializer));
      return entry(statement, name.getText(), called ? 'function' : 'value', called ? parametersOf(initializer) : []);
    });
  }
  return [];
}

function isPublic(member: ts.MethodDeclaration): boolean {
  const hidden = [ts.SyntaxKind.PrivateKeyword, ts.SyntaxKind.ProtectedKeyword];
  return !ts.isPrivateIdentifier(member.name) && !ts.getModifiers(member)?.some(({ kind }) => hidden.includes(kind));
}

function parametersOf(called: ts.SignatureDeclaration): string[] {
  const names = (name: ts.BindingName): string[] =>
    ts.isIdentifier(name)
      ? [name.text]
      : name.elements.flatMap((element) => {
          if (ts.isOmittedExpression(element)) return [];
          const own = element.propertyName && ts.isIdentifier(element.propertyName) ? [element.propertyName.text] : [];
          return [...own, ...names(element.name)];
        });
  return called.parameters.flatMap(({ name }) => names(name));
}

function commentOf(node: ts.Node): Pick<Exported, 'documented' | 'throws' | 'sources' | 'params'> {
  const tags = ts.getJSDocTags(node);
  const texts = (wanted: string) =>
    tags
      .filter((tag) => tag.tagName.text === wanted)
      .map((tag) => `${namedType(tag)}${ts.getTextOfJSDocComment(tag.comment) ?? ''}`.replace(/\s+/g, ' ').trim());
  return {
    documented: ts.getJSDocCommentsAndTags(node).some((part) => ts.isJSDoc(part)),
    throws: texts('throws'),
    sources: texts('source'),
    params: tags.filter((tag) => ts.isJSDocParameterTag(tag)).map((tag) => tag.name.getText()),
  };
}

function namedType(tag: ts.JSDocTag): string {
  return ts.isJSDocThrowsTag(tag) && tag.typeExpression ? `${tag.typeExpression.getText()} ` : '';
}

/** Member names of an interface, in order. */
export function membersOfInterface(file: string, name: string): string[] {
  const found = parse(file).statements.find(
    (statement): statement is ts.InterfaceDeclaration =>
      ts.isInterfaceDeclaration(statement) && statement.name.text === name,
  );
  return (found?.members ?? []).map((member) => {
    const key = member.name!;
    return ts.isStringLiteral(key) ? key.text : key.getText();
  });
}
