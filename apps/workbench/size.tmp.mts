import { build } from 'vite';
import config from './vite.config.ts';
import { readdirSync, readFileSync, writeFileSync, mkdirSync, rmSync } from 'node:fs';
import { gzipSync } from 'node:zlib';
import { join } from 'node:path';
mkdirSync('src/sizetmp',{recursive:true});
writeFileSync('src/sizetmp/index.html','<!doctype html><script type="module" src="./m.ts"></script>');
writeFileSync('src/sizetmp/m.ts',"const w=new Worker(new URL('../compute/worker.ts', import.meta.url),{type:'module'}); console.log(w)");
try {const out='/tmp/wbc/vb/out';
const mods:any[]=[];
const plug=()=>({name:'m',generateBundle(_:any,b:any){for(const c of Object.values(b) as any[]) if(c.type==='chunk'){const g:any={};for(const [k,v] of Object.entries(c.modules) as any[]){const n=(k.match(/node_modules\/\.pnpm\/([^/]+)/)||k.match(/packages\/([^/]+)/)||[0,'app'])[1];g[n]=(g[n]||0)+v.renderedLength;} console.log(c.fileName,g); if(process.argv[2]) for(const [k,v] of Object.entries(c.modules) as any[]) if(k.includes(process.argv[2])&&v.renderedLength>3000) console.log('   ',k.slice(-60),v.renderedLength);}}});
await build({...config, configFile:false, logLevel:'warn', root:process.cwd()+'/src/sizetmp', worker:{...config.worker,plugins:()=>[plug()]}, build:{...config.build,outDir:out,emptyOutDir:true}} as any);
let t=0; for(const f of readdirSync(out,{recursive:true}) as string[]){ try{const b=readFileSync(join(out,f)); const g=gzipSync(b,{level:9}).length; t+=g; console.log(f,b.length,g);}catch{} } console.log(t);
} finally { rmSync('src/sizetmp',{recursive:true}); }
