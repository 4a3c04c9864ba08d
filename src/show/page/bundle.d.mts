/** Types of bundle.mjs. */
export declare function bundlePage(root: string): Promise<{ script: string; worker: string; packages: string[] }>;
