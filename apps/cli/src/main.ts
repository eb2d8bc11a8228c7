#!/usr/bin/env node
import { runCommandLine } from './command-line.ts';
import { terminalDesk } from './desk.ts';

process.exitCode = await runCommandLine(process.argv.slice(2), terminalDesk());
