package idlewright.billing.screens;

import idlewright.billing.Offers;
import idlewright.frame.Crowd;
import idlewright.frame.Refused;
import idlewright.frame.SentBack;
import idlewright.people.Public;
import idlewright.people.Shops;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.util.LinkedHashMap;
import java.util.Map;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The customer sees an estimate behind a secret link, and says yes or no to each group of its lines. */
@Controller
@Public
class OfferScreen {

    private final Offers offers;
    private final Shops shops;
    private final Crowd crowd;
    private final SentBack sentBack;

    OfferScreen(Offers offers, Shops shops, Crowd crowd, SentBack sentBack) {
        this.offers = offers;
        this.shops = shops;
        this.crowd = crowd;
        this.sentBack = sentBack;
    }

    @GetMapping("/offers/{secret:[A-Za-z0-9_-]{22}}")
    String offer(@PathVariable String secret, HttpServletRequest request, HttpServletResponse response, Model model) {
        crowd.letIn(request.getRemoteAddr());
        // The address is the key to the page: it must not travel on in a Referer header, nor stay in a search engine.
        response.setHeader("Referrer-Policy", "no-referrer");
        response.setHeader("X-Robots-Tag", "noindex");
        Offers.Page page = offers.open(secret);
        model.addAttribute("page", page);
        model.addAttribute("secret", secret);
        model.addAttribute(
                "typed",
                page.state() == Offers.State.OPEN ? sentBack.typed("/offers/" + secret, request, model) : Map.of());
        model.addAttribute("shop", shops.shop());
        return "billing/offer";
    }

    @PostMapping("/offers/{secret:[A-Za-z0-9_-]{22}}")
    Object answer(@PathVariable String secret, @RequestParam Map<String, String> typed, HttpServletRequest request) {
        crowd.letIn(request.getRemoteAddr());
        try {
            var chosen = new LinkedHashMap<Integer, Boolean>();
            offers.open(secret).told().forEach(told -> {
                int place = told.group().place();
                String said = typed.get("group-" + place);
                if ("yes".equals(said) || "no".equals(said)) {
                    chosen.put(place, said.equals("yes"));
                }
            });
            offers.answer(secret, chosen, typed.getOrDefault("name", ""));
            sentBack.forget("/offers/" + secret, request);
            return "redirect:/offers/" + secret;
        } catch (Refused no) {
            return sentBack.to("/offers/" + secret, typed, no, request);
        }
    }
}
