/** Entry of the published command. */
import { launch } from './launch.ts';

launch();
