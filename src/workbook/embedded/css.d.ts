/** Style sheets are brought in by the bundler. */
declare module "*.css";
