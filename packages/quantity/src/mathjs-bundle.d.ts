declare module 'mathjs/lib/browser/math.js' {
  import type { ConfigOptions, MathJsInstance } from 'mathjs';
  const bundle: { create(config: ConfigOptions): MathJsInstance };
  export default bundle;
}
