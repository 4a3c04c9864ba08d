declare module 'gcode-parser';
