import "./app/page.ts";
import { keepDropsHere } from "./plan/dropping.ts";

keepDropsHere();
