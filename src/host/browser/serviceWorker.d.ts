/** Names of a service worker's thread that TypeScript's DOM library lacks. Service Workers (W3C), sections 4.1 to 4.6. */
declare class ExtendableEvent extends Event {
  waitUntil(work: Promise<unknown>): void;
}
declare class FetchEvent extends ExtendableEvent {
  readonly request: Request;
  respondWith(response: Promise<Response>): void;
}
declare const clients: { claim(): Promise<void> };
/** `scope`: address of the app, with the slash at its end. */
declare const registration: { readonly scope: string };
