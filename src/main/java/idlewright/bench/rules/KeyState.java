package idlewright.bench.rules;

/** What the key and the engine were doing while a reading was taken. */
public enum KeyState {
    KEY_OFF("key off"),
    KEY_ON_ENGINE_OFF("key on, engine off"),
    CRANKING("cranking"),
    RUNNING("running");

    private final String words;

    KeyState(String words) {
        this.words = words;
    }

    public String words() {
        return words;
    }
}
