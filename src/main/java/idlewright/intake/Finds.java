package idlewright.intake;

import java.util.List;

/** One search box for everything: each room answers for what it owns. */
public interface Finds {

    List<Hit> find(String words);

    /** Something found, and where it is shown. */
    record Hit(String kind, String title, String detail, String url) {}
}
