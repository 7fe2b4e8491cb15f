import { readFileSync } from "node:fs";
import { join } from "node:path";
import { type Plugin, parseAst } from "vite";
import type { SyntaxNode } from "./syntax-node";

/**
 * For the build of the page: takes out of the parser's package what a finished grammar never runs. The grammar is
 * checked by the tests, recovers nowhere, builds no concrete tree and words its messages itself; so the package's
 * checks, recovery, trees and messages are not sent to the reader, nor a collection of helpers that the language has
 * by now. Every cut names the text that it takes; when a newer package reads otherwise, the build says so.
 */
export function slimParser(): Plugin {
  const inPackage = (file: string): string | undefined =>
    /[\\/]node_modules[\\/]((?:@chevrotain|chevrotain)[\\/][^?]*)/.exec(file)?.[1]?.replaceAll("\\", "/");
  return {
    name: "slim-parser",
    apply: "build",
    enforce: "pre",
    resolveId(source, importer) {
      if (source !== "lodash-es" || importer === undefined || inPackage(importer) === undefined) return null;
      return join(import.meta.dirname, "collections.ts");
    },
    transform(code, id) {
      const file = inPackage(id);
      const cuts = file === undefined ? undefined : CUTS[file];
      if (file === undefined) return undefined;
      // Its modules do nothing but declare; what nobody uses of them may go.
      const slim = cuts === undefined ? code : cut(code, cuts, file);
      return { code: slim, map: null, moduleSideEffects: false };
    },
  };
}

interface Cuts {
  /** Texts that stand exactly once, or as often as said, and what stands there instead. */
  readonly instead?: readonly (readonly [text: string, instead: string, times?: number])[];
  /** Stretches from one text, which stands once, to just before the next of another, and what stands there instead. */
  readonly stretches?: readonly (readonly [from: string, to: string, instead?: string])[];
  /** Imports that nothing will use: their names are undefined. */
  readonly without?: readonly string[];
  /** Methods that nothing calls. */
  readonly methods?: readonly string[];
  /** A list of sorts of mistakes in a grammar, which only its checks name. */
  readonly list?: string;
}

/** @throws Error when the code does not read as the cuts expect */
export function cut(
  code: string,
  { instead = [], stretches = [], without = [], methods = [], list }: Cuts,
  file: string,
): string {
  const surprise = (what: string): Error =>
    new Error(`${file} reads otherwise than src/build/slim-parser.ts expects: ${what}`);
  let slim = code;
  for (const source of without) {
    const pattern = new RegExp(`import \\{([^}]*)\\} from "${source.replace(/[.\\/]/g, "\\$&")}";`, "g");
    const found = [...slim.matchAll(pattern)];
    if (found.length !== 1) throw surprise(`it imports ${source} ${found.length} times`);
    const names = found[0]![1]!.split(",").flatMap(
      (name) =>
        name
          .trim()
          .split(/\s+as\s+/)
          .at(-1) || [],
    );
    slim = slim.replace(pattern, names.map((name) => `const ${name} = undefined;`).join(" "));
  }
  for (const [from, to, put = ""] of stretches) {
    const at = slim.indexOf(from);
    const end = slim.indexOf(to, at + from.length);
    if (at < 0 || end < 0 || slim.includes(from, at + 1)) throw surprise(`“${from}” to “${to}”`);
    slim = slim.slice(0, at) + put + slim.slice(end);
  }
  for (const [text, put, times = 1] of instead) {
    const parts = slim.split(text);
    if (parts.length !== times + 1) throw surprise(`“${text}” stands ${parts.length - 1} times in it`);
    slim = parts.join(put);
  }
  if (list !== undefined) {
    const pattern = new RegExp(
      `export var ${list};\\s*\\(function \\(${list}\\) \\{[\\s\\S]*?\\}\\)\\(${list}[^;]*;`,
    );
    if (!pattern.test(slim)) throw surprise(`it has no list ${list}`);
    slim = slim.replace(pattern, `export const ${list} = {};`);
  }
  for (const method of methods) {
    const { body } = parseAst(slim) as unknown as { body: readonly SyntaxNode[] };
    const found = body
      .map((statement) => (statement.declaration as SyntaxNode | undefined) ?? statement)
      .filter((node) => node.type === "ClassDeclaration")
      .flatMap((node) => (node.body as { body: readonly SyntaxNode[] }).body)
      .filter((member) => (member.key as { name?: string } | undefined)?.name === method);
    if (found.length !== 1) throw surprise(`${method} is a method ${found.length} times`);
    slim = slim.slice(0, found[0]!.start) + slim.slice(found[0]!.end);
  }
  return slim;
}

const parser = "chevrotain/lib/src/parse/parser";

/** The ways to write a rule that the grammar does not use. The package has each without a number and with 1 to 9. */
const unwritten = (): readonly string[] => {
  const rules = ["parser.ts", "formula-rules.ts"].map((file) =>
    readFileSync(join(import.meta.dirname, "../../grammar", file), "utf8"),
  );
  const written = new Set([...rules.join("").matchAll(/\bthis\.([A-Z_]+\d?)\(/g)].map((m) => m[1]!));
  return ["CONSUME", "SUBRULE", "OPTION", "OR", "MANY", "MANY_SEP", "AT_LEAST_ONE", "AT_LEAST_ONE_SEP"]
    .flatMap((way) => ["", 1, 2, 3, 4, 5, 6, 7, 8, 9].map((n) => `${way}${n}`))
    .filter((way) => !written.has(way));
};

const CUTS: Readonly<Record<string, Cuts>> = {
  // The grammar is checked by the tests; here it is right.
  [`${parser}/parser.js`]: {
    without: ["../errors_public.js"],
    list: "ParserDefinitionErrorType",
    instead: [
      ["isEmpty(resolverErrors) && this.skipValidations === false", "false"],
      ["if (this.recoveryEnabled) {", "if (false) {"],
    ],
  },
  "chevrotain/lib/src/parse/grammar/gast/gast_resolver_public.js": { without: ["../../errors_public.js"] },
  "chevrotain/lib/src/parse/grammar/llk_lookahead.js": {
    without: ["../errors_public.js", "./checks.js"],
    methods: [
      "validate",
      "validateNoLeftRecursion",
      "validateEmptyOrAlternatives",
      "validateAmbiguousAlternationAlternatives",
      "validateSomeNonEmptyLookaheadPath",
    ],
  },
  [`${parser}/traits/recognizer_api.js`]: {
    without: ["../../errors_public.js", "../../grammar/checks.js"],
    methods: [
      "OVERRIDE_RULE",
      "BACKTRACK",
      "getSerializedGastProductions",
      ...["consume", "subrule", "option", "or", "many", "atLeastOne"],
      ...unwritten(),
    ],
  },
  [`${parser}/traits/recognizer_engine.js`]: {
    without: ["../../grammar/interpreter.js"],
    methods: [
      "consumeInternalRecovery",
      "atLeastOneInternal",
      "atLeastOneInternalLogic",
      "saveRecogState",
      "reloadRecogState",
    ],
    // The vocabulary is a list of tokens.
    stretches: [
      [
        'if (has(config, "serializedGrammar")) {',
        "if (isArray(tokenVocabulary)) {\n            this.tokensMap = reduce(",
      ],
      ['else if (has(tokenVocabulary, "modes") &&', "// always add EOF"],
      ["if (this.selfAnalysisDone) {", "const resyncEnabled = has("],
    ],
    instead: [
      [
        "consumedToken = this.consumeInternalRecovery(tokType, idx, eFromConsumption);",
        "throw eFromConsumption;",
      ],
      ["resyncEnabledConfig && !this.isBackTracking() && this.recoveryEnabled", "false"],
      ["this.outputCst === true", "false"],
    ],
  },
  [`${parser}/traits/perf_tracer.js`]: {
    stretches: [['if (has(config, "traceInitPerf")) {', "this.traceInitIndent = -1;"]],
    instead: [["if (this.traceInitPerf === true) {", "if (false) {"]],
  },
  [`${parser}/traits/gast_recorder.js`]: {
    stretches: [
      ["if (originalError.KNOWN_RECORDER_ERROR !== true) {", "throw originalError;\n        }\n    }"],
      ["if (!ruleToCall || has(", "const prevProd = peek("],
      ["if (!hasShortKeyProperty(tokType)) {", "const prevProd = peek("],
      ["if (idx < 0 || idx > MAX_METHOD_IDX) {", "}\n//# sourceMappingURL"],
    ],
  },
  [`${parser}/traits/context_assist.js`]: {
    without: ["../../grammar/interpreter.js"],
    methods: ["computeContentAssist", "getNextPossibleTokenTypes"],
  },
  // A statement is short: its first fault is told, and the next statement is read afresh.
  [`${parser}/traits/recoverable.js`]: {
    instead: [["if (this.recoveryEnabled) {", "if (false) {"]],
    methods: [
      "getTokenToInsert",
      "canTokenTypeBeInsertedInRecovery",
      "canTokenTypeBeDeletedInRecovery",
      "tryInRepetitionRecovery",
      "shouldInRepetitionRecoveryBeTried",
      "getFollowsForInRuleRecovery",
      "tryInRuleRecovery",
      "canPerformInRuleRecovery",
      "canRecoverWithSingleTokenInsertion",
      "canRecoverWithSingleTokenDeletion",
      "isInCurrentRuleReSyncSet",
      "findReSyncTokenType",
      "getCurrFollowKey",
      "buildFullFollowKeyStack",
      "flattenFollowSet",
      "getFollowSetFromFollowKey",
      "addToResyncTokens",
      "reSyncTo",
      "getCurrentGrammarPath",
    ],
  },
  // The rules build the tree themselves.
  [`${parser}/traits/tree_builder.js`]: {
    without: ["../../cst/cst.js", "../../cst/cst_visitor.js"],
    instead: [["if (!this.outputCst) {", "if (true) {"]],
    methods: [
      "setInitialNodeLocationOnlyOffsetRecovery",
      "setInitialNodeLocationOnlyOffsetRegular",
      "setInitialNodeLocationFullRecovery",
      "setInitialNodeLocationFullRegular",
      "cstInvocationStateUpdate",
      "cstFinallyStateUpdate",
      "cstPostRuleFull",
      "cstPostRuleOnlyOffset",
      "cstPostTerminal",
      "cstPostNonTerminal",
      "getBaseCstVisitorConstructor",
      "getBaseCstVisitorConstructorWithDefaults",
    ],
  },
  "chevrotain/lib/src/scan/lexer_public.js": {
    without: ["./reg_exp_parser.js", "./lexer_errors_public.js"],
    list: "LexerDefinitionErrorType",
    // Our lexer has modes that are entered and never left, tokens that match by functions of ours, and offsets only.
    stretches: [
      ['if (typeof config === "boolean") {', "this.config = assign("],
      ["const traceInitVal = this.config.traceInitPerf;", "this.traceInitIndent = -1;"],
      ["if (this.config.lineTerminatorsPattern ===", "// Convert SingleModeLexerDefinition"],
      ["if (!isEmpty(this.lexerDefinitionErrors) &&", "// Only print warning"],
      ["forEach(this.lexerDefinitionWarning,", 'this.TRACE_INIT("Choosing'],
      [
        "if (hasOnlySingleMode) {",
        'this.TRACE_INIT("Failed Optimization Warnings"',
        "this.createTokenInstance = this.createOffsetOnlyToken; this.addToken = this.addTokenUsingPush; this.handlePayload = this.handlePayloadWithCustom; });",
      ],
      ['this.TRACE_INIT("Failed Optimization Warnings"', 'this.TRACE_INIT("clearRegExpParserCache"'],
      ["if (!isEmpty(this.lexerDefinitionErrors)) {\n            const all", "return this.tokenizeInternal("],
      ["const pop_mode = (popToken) => {", "function push_mode(", "const pop_mode = undefined;"],
      // Whatever cannot be read is a token too; were there a place where none begins, the lexer of the house throws.
      [
        "const errorStartOffset = offset;",
        "if (recoveryEnabled === false) {",
        "errors.push({ offset }); break;",
      ],
    ],
    methods: [
      "createStartOnlyToken",
      "createFullToken",
      "addTokenUsingMemberAccess",
      "handlePayloadNoCustom",
      "updateTokenEndLineColumnLocation",
      "computeNewColumn",
    ],
    instead: [
      ["errorMessageProvider: defaultLexerErrorProvider,", ""],
      ["if (this.traceInitPerf === true) {", "if (false) {"],
      ["if (isArray(lexerDefinition)) {", "if (false) {"],
      ["if (isEmpty(this.lexerDefinitionErrors)) {", "{"],
      ["this.trackStartLines ? 1 : undefined", "undefined", 2],
      ["const trackLines = this.trackStartLines;", "const trackLines = false;"],
      ["column = this.computeNewColumn(column, imageLength);", "", 2],
      ["if (config.pop === true) {", "if (false) {"],
      ["this.config.skipValidations === false", "false", 2],
      ["clearRegExpParserCache();", ""],
    ],
  },
  // Every token says with which characters it begins, and only offsets are counted.
  "chevrotain/lib/src/scan/lexer.js": {
    without: ["./reg_exp.js", "./reg_exp_parser.js", "@chevrotain/regexp-to-ast"],
    instead: [
      ['options.positionTracking !== "onlyOffset"', "false"],
      [
        "const optimizedCodes = getOptimizedStartCodesIndices(currTokType.PATTERN, options.ensureOptimizations);",
        "throw new Error('A token does not say with which characters it begins.'); const optimizedCodes = [];",
      ],
    ],
  },
};
