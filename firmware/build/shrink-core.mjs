/**
 * Makes the compiled core smaller: the compiler ends before its optimizer has nothing left to find, and never puts a number
 * that stands often into a local. Only what the compiler itself may use of WebAssembly is used.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import binaryen from 'binaryen';

const { Features } = binaryen;
const features =
  Features.MutableGlobals |
  Features.SignExt |
  Features.NontrappingFPToInt |
  Features.BulkMemory |
  Features.BulkMemoryOpt;

const [wasmFile] = process.argv.slice(2);
binaryen.setOptimizeLevel(2);
binaryen.setShrinkLevel(2);
const core = binaryen.readBinary(readFileSync(wasmFile));
core.setFeatures(features);
core.optimize();
core.runPasses(['const-hoisting']);
if (!core.validate()) throw new Error(`${wasmFile} is no valid module any more`);
writeFileSync(wasmFile, core.emitBinary());
