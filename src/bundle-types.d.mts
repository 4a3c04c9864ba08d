export declare function bundleTypes(root: string, file: string): Promise<void>;
