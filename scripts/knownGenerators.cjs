/**
 * In place of "@stdlib/assert-has-generator-support", which evaluates a text to find out: the page's policy forbids
 * that and reports each try. Every browser that the pages run in has generators.
 */
module.exports = () => true;
