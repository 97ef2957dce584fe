#!/bin/sh
# A survey by one run, and as an array of eight jobs by Slurm: the same bytes? Slurm and munge are started
# for it, as a cluster of this one computer, and ended again; so it takes root, and is run by hand alone.
#   apt-get install slurm-wlm munge
#   sh tests/scale/slurm.sh PROGRAM [GROUPS: 400]
[ $# -ge 1 ] || { sed -n 's/^#   \(sh\)/usage: \1/p' "$0" >&2; exit 2; }
if [ "$(id -u)" -ne 0 ]; then
  echo "SKIPPED: not root, and Slurm starts jobs as root alone"
  exit 77
fi
for needed in munged slurmctld slurmd sbatch; do
  if ! command -v $needed >/dev/null; then
    echo "SKIPPED: $needed is not here (Debian's packages slurm-wlm and munge)"
    exit 77
  fi
done
. "$(dirname "$0")/parts.sh"

daemons=
end() {
  # The last started first: a node tells its controller that it goes.
  for daemon in $daemons; do
    kill "$daemon" 2>/dev/null || true
    wait "$daemon" 2>/dev/null || true
  done
  rm -rf "$work"
}
trap end EXIT
trap 'exit 1' INT TERM

# start LOG COMMAND...: in the background, ended with this script.
start() {
  log=$work/$1
  shift
  "$@" >"$log" 2>&1 &
  daemons="$! $daemons"
}

# wait_for SECONDS COMMAND...
wait_for() {
  seconds=$1
  shift
  until "$@" >/dev/null 2>&1; do
    [ "$seconds" -gt 0 ] || { tail -n 5 "$work"/*.log >&2; fail "waited in vain for: $*"; }
    seconds=$((seconds - 1))
    sleep 1
  done
}

start_cluster() {
  node=$(hostname -s)
  chmod 755 "$work"
  mkdir "$work/munge" "$work/state" "$work/spool"
  chmod 755 "$work/munge"
  (umask 077 && head -c 1024 /dev/urandom >"$work/munge/key")
  # Ports that another Slurm of this computer does not use.
  cat >"$work/slurm.conf" <<CONF
ClusterName=trial
SlurmctldHost=$node(127.0.0.1)
SlurmctldPort=16817
SlurmdPort=16818
SlurmUser=root
AuthType=auth/munge
AuthInfo=socket=$work/munge/socket
CredType=cred/munge
StateSaveLocation=$work/state
SlurmdSpoolDir=$work/spool
SlurmctldPidFile=$work/slurmctld.pid
SlurmdPidFile=$work/slurmd.pid
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
JobAcctGatherType=jobacct_gather/none
AccountingStorageType=accounting_storage/none
SelectType=select/cons_tres
SelectTypeParameters=CR_Core_Memory
MpiDefault=none
MailProg=/bin/true
ReturnToService=2
NodeName=$node NodeAddr=127.0.0.1 $(slurmd -C | grep -o '[A-Za-z]*=[0-9]*' | grep -E '^(CPUs|Boards|SocketsPerBoard|CoresPerSocket|ThreadsPerCore|RealMemory)=' | tr '\n' ' ')
PartitionName=all Nodes=$node Default=YES MaxTime=INFINITE State=UP
CONF
  export SLURM_CONF="$work/slurm.conf"
  start munge.log munged --foreground --force --num-threads 2 --socket "$work/munge/socket" \
    --key-file "$work/munge/key" --pid-file "$work/munge/pid" --seed-file "$work/munge/seed" \
    --log-file "$work/munge/log"
  wait_for 20 munge --socket "$work/munge/socket" --no-input
  start slurmctld.log slurmctld -D
  start slurmd.log slurmd -D
  wait_for 60 sh -c "sinfo --noheader --format=%T | grep -qx idle"
}

survey_whole
start_cluster
echo "\$ sinfo --format='%n %c CPUs, %T'"
sinfo --noheader --format='one computer: %c CPUs, %T'
shown_block '#SBATCH' >survey.sbatch
echo '$ sbatch --wait survey.sbatch'
sbatch --wait survey.sbatch || { cat part-*.log >&2; fail "the jobs ended badly"; }
echo '$ scontrol show jobs'
scontrol --oneliner show jobs | sed 's/.*ArrayTaskId=\([0-9]*\).* JobState=\([A-Z]*\).* ExitCode=\([0-9:]*\).* RunTime=\([0-9:]*\).*/part \1: \2, exit code \3, \4/' | sort
join_and_compare
