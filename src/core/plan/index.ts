export * from './apply';
export { COMMAND_NAMES, type Command, type CommandName } from './commands';
export * from './empty';
export * from './history';
export * from './jsonText';
export * from './migrations';
export * from './planText';
export * from './reshape';
export * from './schema';
