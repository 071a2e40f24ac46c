package idlewright.frame;

/** There is no such thing, or none that this person may see: both look the same. */
public class NotFound extends RuntimeException {

    private NotFound(String what) {
        super(what, null, false, false);
    }

    public static NotFound of(String what) {
        return new NotFound("There is no " + what + ".");
    }
}
