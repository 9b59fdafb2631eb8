export * from './additions/index.js';
export * from './application.js';
export * from './cautions/index.js';
export * from './contradictions.js';
export * from './figures.js';
export * from './mix/index.js';
export * from './recipe.js';
export * from './starting-list/index.js';
