// SPDX-License-Identifier: MIT
// The engine alone, where a test can reach it.
import { Engine } from "../../../cli/page/engine.js";

Object.assign(window, { Engine });
