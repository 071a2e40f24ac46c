package idlewright.billing;

/** By what the shop's seals are known. A later room keeps the key. */
public interface KeyPrint {

    String fingerprint();
}
