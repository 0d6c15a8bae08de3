import ts from 'typescript';

/**
 * Functions of Math that give the same result on every machine: exact by their definition, or, as the square
 * root, rounded correctly by the floating-point standard. The rest may differ from engine to engine.
 */
const EXACT = new Set([
  'abs',
  'ceil',
  'floor',
  'imul',
  'max',
  'min',
  'round',
  'sign',
  'sqrt',
  'trunc',
]);

/** One place where a source file computes something that another machine might compute differently. */
export interface InexactPlace {
  /** Line, counted from 1. */
  readonly line: number;
  readonly found: string;
}

/** Where a TypeScript source uses powers, or Math in any other way than calling an exact function. */
export function inexactArithmetic(text: string): InexactPlace[] {
  const file = ts.createSourceFile('source.ts', text, ts.ScriptTarget.ES2022, true);
  const places: InexactPlace[] = [];
  const report = (node: ts.Node, found: string): void => {
    const line = file.getLineAndCharacterOfPosition(node.getStart()).line + 1;
    places.push({ line, found });
  };
  const visit = (node: ts.Node): void => {
    if (
      node.kind === ts.SyntaxKind.AsteriskAsteriskToken ||
      node.kind === ts.SyntaxKind.AsteriskAsteriskEqualsToken
    ) {
      report(node, '**');
    }
    if (ts.isIdentifier(node) && node.text === 'Math' && !callsExactFunction(node)) {
      report(node, node.parent.getText());
    }
    ts.forEachChild(node, visit);
  };
  visit(file);
  return places;
}

function callsExactFunction(math: ts.Identifier): boolean {
  const member = math.parent;
  return (
    ts.isPropertyAccessExpression(member) &&
    member.expression === math &&
    EXACT.has(member.name.text)
  );
}
