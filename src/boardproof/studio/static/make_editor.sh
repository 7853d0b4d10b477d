#!/bin/sh
# Makes codemirror.js anew, by hand and rarely: the studio needs no build step. Needs npm; see LICENCES.txt for what is in it.
set -e
folder=$(mktemp -d)
target=$(cd "$(dirname "$0")" && pwd)/codemirror.js
cd "$folder"
npm init -y > /dev/null
npm install --ignore-scripts @codemirror/state@6.7.6 @codemirror/view@6.43.15 @codemirror/commands@6.11.1 esbuild
cat > entry.js << 'END'
export { EditorState, Compartment, Transaction, Annotation } from "@codemirror/state";
export { EditorView, keymap, drawSelection } from "@codemirror/view";
export { defaultKeymap } from "@codemirror/commands";
END
node_modules/.bin/esbuild entry.js --bundle --minify --format=esm --outfile="$target"
