# Does one line after another as somebody who may use serial ports, and says after each how it ended.
set -o pipefail
echo ready
while read -r line; do
  su -s /bin/sh printer -c "cd; $line" </dev/null 2>&1 | cat
  printf '\036%d\n' "$?"
done
