/** What the build lays into the library as text, so that it needs no disk: the posts, and the page's two scripts. */

interface BuiltIn {
  /** Parsed post files by name. */
  readonly posts: Readonly<Record<string, unknown>>;
  /** Classic scripts of the page and of its worker. */
  readonly page: { readonly script: string; readonly worker: string };
}

/** Put in place of this name by `bundle.mjs`. */
declare const TABWRIGHT_BUILT_IN: BuiltIn | undefined;

export function builtIn(): BuiltIn {
  if (typeof TABWRIGHT_BUILT_IN === 'undefined')
    throw new Error('the library is used as built (dist/index.mjs): its posts and page are laid in by the build');
  return TABWRIGHT_BUILT_IN;
}
