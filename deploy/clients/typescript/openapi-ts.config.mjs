// What @hey-api/openapi-ts is told: functions over fetch, which need no package at run time.
export default {
  input: process.env.DESCRIPTION,
  output: { path: "generated", importFileExtension: ".js" },
  plugins: ["@hey-api/client-fetch", "@hey-api/typescript", "@hey-api/sdk"],
};
