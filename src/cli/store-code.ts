/** Part of the build: runs the command once, on the arguments given, and stores the code that V8 made on the way. */
import { launchAndStore } from './launch.ts';

launchAndStore();
