/** Imported by whoever tells why something cannot be read: behind this import every fault has its reason. */
import "./explaining";
