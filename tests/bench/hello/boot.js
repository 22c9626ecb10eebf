// Starts the module as early as ours is started: its parts are on their way by then.
import init from "./hello.js";

init({ module_or_path: fetch("hello.wasm") });
