/** The part of the WebAssembly JavaScript interface (W3C) that the kernel uses; the language's own library has no types of it. */
declare namespace WebAssembly {
  class Memory {
    constructor(descriptor: { readonly initial: number });
    readonly buffer: ArrayBuffer;
  }
  class Module {
    constructor(bytes: Uint8Array<ArrayBuffer>);
  }
  class Instance {
    constructor(module: Module, imports: Readonly<Record<string, Readonly<Record<string, Memory>>>>);
    readonly exports: Readonly<Record<string, unknown>>;
  }
}
