// SPDX-License-Identifier: MIT
/** What the linker makes (cmake/page.cmake). */
declare module "hollowtop-module" {
  const makeModule: (options: object) => Promise<any>;
  export default makeModule;
}
