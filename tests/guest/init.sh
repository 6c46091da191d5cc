#!/bin/busybox sh
# The first program of the guest: makes a Linux laptop of it, with somebody logged in who is called printer.
export PATH=/usr/sbin:/usr/bin:/sbin:/bin HOME=/home/printer TZ=UTC0 LANG=C.UTF-8
/bin/busybox --install -s /usr/bin
/bin/busybox ln -s busybox /bin/sh
mount -t proc proc /proc
mount -t sysfs sys /sys
mount -t devtmpfs dev /dev
mkdir -p /dev/pts /run/udev /tmp /var
mount -t devpts pts /dev/pts
ln -s /run /var/run
chmod 1777 /tmp
chown -R printer /home/printer
hostname laptop
exec </dev/null >/dev/console 2>&1

dmesg -n 7
modprobe -a e1000 vhci_hcd
ip link set lo up
ip addr add 10.0.2.15/24 dev eth0
ip link set eth0 up
/lib/systemd/systemd-udevd --daemon
udevadm trigger --action=add
udevadm settle

# The socket that the cable goes into: whenever a device is there to be had, it is plugged in.
while sleep 0.5; do
  grep -q '^hs *0000 006' /sys/devices/platform/vhci_hcd.0/status ||
    usbip --tcp-port "$usbip_port" attach -r 10.0.2.2 -b 1-1 >/dev/null 2>&1
done &

# As a desktop does it for whoever sits there: a drive is given a folder while it is plugged in.
folder=/media/printer/RPI-RP2
mkdir -p $folder
while sleep 0.3; do
  disk=$(ls /dev/sd?1 2>/dev/null)
  if [ -n "$disk" ]; then
    mountpoint -q $folder || mount -t vfat -o uid=1000 "$disk" $folder 2>/dev/null
  elif mountpoint -q $folder; then
    umount -l $folder
  fi
done &

# What is typed at it comes over the network, a command a line.
exec nc 10.0.2.2 "$line_port" -e /bin/sh /typed-at.sh
