package idlewright.intake.rules;

import java.util.EnumSet;
import java.util.Set;

/** The marks a thread can carry; the order is the order of a good day. */
public enum ThreadStamp {
    /** The customer's words are kept. */
    HEARD("heard"),
    /** Somebody of the shop saw it happen. */
    REPRODUCED("seen in the bay"),
    /** A cause was decided on. */
    TRACED("cause found"),
    /** The customer does not want the repair that was offered; they may change their mind. */
    REFUSED("repair not wanted"),
    /** The customer wants the repair after all. */
    WANTED("repair wanted after all"),
    /** The repair is done, not yet proved. */
    MENDED("repaired"),
    /** The same test says that it helped. */
    PROVED("proved"),
    /** The follow-up said that it stayed away. */
    WATCHED("stayed away"),
    /** The cause was not found; said, not hidden. */
    UNTRACED("cause not found"),
    /** Noted, not repaired: the customer decided. */
    DECLINED("noted, not repaired"),
    /** The symptom came back after the thread had ended. */
    RETURNED("came back"),
    /** The owner said why it came back. */
    EXPLAINED("return explained");

    private final String words;

    ThreadStamp(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }

    /** Whether this mark may be set on a thread that carries those. */
    public boolean mayFollow(Set<ThreadStamp> carried) {
        return switch (this) {
            case HEARD -> carried.isEmpty();
            case REPRODUCED, TRACED, REFUSED, WANTED, UNTRACED, DECLINED -> carried.contains(HEARD) && !ended(carried);
            case MENDED -> carried.contains(TRACED) && !ended(carried);
            case PROVED -> carried.contains(MENDED) && !ended(carried);
            case WATCHED -> ended(carried) && !carried.contains(RETURNED);
            case RETURNED -> ended(carried);
            case EXPLAINED -> carried.contains(RETURNED);
        };
    }

    public String whyNot() {
        return switch (this) {
            case HEARD -> "The words are kept already.";
            case REPRODUCED, TRACED, REFUSED, WANTED, UNTRACED, DECLINED -> "This symptom has ended.";
            case MENDED -> "Record the cause first; a symptom that has ended takes no repair.";
            case PROVED -> "Record the repair first; only a repair can be proved.";
            case WATCHED -> "Only a symptom that has ended, and has not come back, can be followed up.";
            case RETURNED -> "The symptom has not ended yet.";
            case EXPLAINED -> "The symptom has not come back.";
        };
    }

    /** Nothing more is done in the bay. */
    public static boolean ended(Set<ThreadStamp> carried) {
        return carried.contains(PROVED) || carried.contains(UNTRACED) || carried.contains(DECLINED);
    }

    public static Set<ThreadStamp> none() {
        return EnumSet.noneOf(ThreadStamp.class);
    }
}
