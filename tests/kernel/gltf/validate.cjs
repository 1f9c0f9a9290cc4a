// Prints what the validator of glTF has to say of a file, as JSON.
const { readFileSync } = require("fs");
const { validateBytes } = require("gltf-validator");

validateBytes(new Uint8Array(readFileSync(process.argv[2])), { maxIssues: 0 }).then(
  (report) => console.log(JSON.stringify(report)),
  (error) => {
    console.error(error);
    process.exit(1);
  },
);
