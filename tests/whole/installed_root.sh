#!/usr/bin/env bash
# In a Debian of its own (the folder $1, with the package at /tmp/witnessmark.deb): installs it, works with it as a person
# without rights, removes it, and finds the journal where it was. scripts/package --check runs this as root.
set -euo pipefail
root=$1
inside() { chroot "$root" /usr/bin/env -i PATH=/usr/sbin:/usr/bin:/sbin:/bin HOME=/root LC_ALL=C.UTF-8 DEBIAN_FRONTEND=noninteractive "$@"; }
as_person() { chroot --userspec=1000:1000 "$root" /usr/bin/env -i PATH=/usr/bin:/bin HOME=/home/ansa LC_ALL=C.UTF-8 "$@"; }
mount -t proc proc "$root/proc"
trap 'umount "$root/proc"' EXIT
cp /etc/resolv.conf "$root/etc/" 2>/dev/null || true
# The archive that this machine is set up for, so that what the package depends on comes from there too.
for file in /etc/apt/sources.list /etc/apt/sources.list.d/*; do
    if [ -f "$file" ]; then cp "$file" "$root$file"; fi
done
inside apt-get update -q >&2
inside apt-get install -y -q --no-install-recommends /tmp/witnessmark.deb >&2
inside useradd -m -u 1000 ansa
as_person witnessmark --version
as_person witnessmark demo --into /home/ansa/demo
as_person witnessmark attest /home/ansa/demo/report.pdf
as_person witnessmark lint /usr/share/witnessmark/checklists/commissioning.toml
job=$(as_person witnessmark job new --checklist commissioning --no-facts | head -1)
[ -s "$root/home/ansa/.local/share/witnessmark/journal.db" ]
inside apt-get purge -y -q witnessmark 2>&1 | tee "$root/tmp/said" >&2
grep -q '.local/share/witnessmark' "$root/tmp/said"
[ -s "$root/home/ansa/.local/share/witnessmark/journal.db" ]
[ ! -e "$root/usr/bin/witnessmark" ] && [ ! -e "$root/usr/share/witnessmark" ]
inside apt-get install -y -q --no-install-recommends /tmp/witnessmark.deb >&2
as_person witnessmark job list | grep -q "^$job "
echo "installed, worked with, purged with the journal left, installed again with the job $job still there"
