// SPDX-License-Identifier: MIT
/** What the linker makes (cmake/page.cmake). */
declare module "hollowtop-module" {
  const makeModule: (options: object) => Promise<any>;
  export default makeModule;
}

/** In every browser of 2023 or later, and not yet in the types of Debian's tsc. */
declare class DecompressionStream {
  constructor(format: "gzip" | "deflate" | "deflate-raw");
  readonly readable: ReadableStream<Uint8Array>;
  readonly writable: WritableStream<Uint8Array>;
}
declare class CompressionStream extends DecompressionStream {}
