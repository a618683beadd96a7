/** The content security policy of the built pages. */
export declare const contentPolicy: string;
