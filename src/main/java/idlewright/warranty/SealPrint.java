package idlewright.warranty;

import idlewright.billing.KeyPrint;
import idlewright.warranty.model.ShopKey;
import idlewright.warranty.rules.Seal;
import org.springframework.stereotype.Component;

/** Lets an invoice name the key by which the shop's dossiers are known. */
@Component
class SealPrint implements KeyPrint {

    private final ShopKey key;

    SealPrint(ShopKey key) {
        this.key = key;
    }

    @Override
    public String fingerprint() {
        return Seal.fingerprint(key.pair().getPublic());
    }
}
