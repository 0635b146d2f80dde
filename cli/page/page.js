// SPDX-License-Identifier: MIT
// @ts-check
/// The page: what is drawn, what is known of it, and what shows both.
import {Engine} from "./engine.js";
import {Board} from "./board.js";

const engine = new Engine();
const board = new Board(engine, document);
void board.begin();
