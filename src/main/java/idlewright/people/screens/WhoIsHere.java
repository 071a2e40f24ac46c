package idlewright.people.screens;

import idlewright.people.Me;
import idlewright.people.People;
import idlewright.people.Shop;
import idlewright.people.Shops;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.ModelAttribute;

/** Gives every page who is asking and which shop this is. */
@ControllerAdvice(annotations = Controller.class)
class WhoIsHere {

    private final People people;
    private final Shops shops;

    WhoIsHere(People people, Shops shops) {
        this.people = people;
        this.shops = shops;
    }

    @ModelAttribute("me")
    @Nullable
    Me me() {
        return people.badge().map(Me::of).orElse(null);
    }

    @ModelAttribute("shop")
    Shop shop() {
        return shops.shop();
    }
}
