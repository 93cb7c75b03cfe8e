// Everything works without this file. With it, a page changes in place: the same page is fetched
// from the service, and the pieces with the same id are put in place of the old ones.
import { swapOnActing } from "./swap.js";
import { tellPicked } from "./picked.js";
import { stepInPlace } from "./steps.js";

swapOnActing(document);
tellPicked(document);
stepInPlace(document);
